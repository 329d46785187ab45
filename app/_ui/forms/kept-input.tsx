'use client'

import { useEffect, useRef } from 'react'

interface KeptInputProps {
  name: string
  /** What was chosen, as text; empty when nothing is. */
  value: string
  /** What the page came with. */
  first?: string
  /** Takes back what was chosen before a reload. */
  giveBack(value: string): void
}

/** What was chosen and is no text, such as the name of a photograph that was sent: it lies in the form, and survives a reload as text does. */
export function KeptInput({ name, value, first = '', giveBack }: KeptInputProps) {
  const input = useRef<HTMLInputElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the form learns of it when it changes, as of typing.
  useEffect(() => {
    input.current?.dispatchEvent(new Event('input', { bubbles: true }))
  }, [value])
  return (
    <input
      ref={input}
      type="hidden"
      name={name}
      value={value}
      data-kept={first}
      onInput={(event) => {
        const given = event.currentTarget.value
        if (given !== value) giveBack(given)
      }}
    />
  )
}
