'use client'

import { type RefObject, useEffect, useRef } from 'react'

/** Keeps the height of what the reference is put on in a custom property of the page, for whatever has to keep clear of it. */
export function useMeasuredHeight(property: `--${string}`): RefObject<HTMLDivElement | null> {
  const measured = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const element = measured.current
    if (!element) return
    const { style } = document.documentElement
    const observer = new ResizeObserver(() => style.setProperty(property, `${Math.ceil(element.offsetHeight)}px`))
    observer.observe(element, { box: 'border-box' })
    return () => {
      observer.disconnect()
      style.removeProperty(property)
    }
  }, [property])
  return measured
}
