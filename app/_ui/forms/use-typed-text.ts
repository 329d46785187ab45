'use client'

import { type RefObject, useEffect } from 'react'
import { placeOf, readKept, typedIn } from './typed-text.rules'

type Box = HTMLInputElement | HTMLTextAreaElement

/** Boxes for text; codes that are good once, files, ticks and choices are not kept. */
const boxesOf = (form: HTMLFormElement): Box[] =>
  [...form.elements].filter(
    (each): each is Box =>
      (each instanceof HTMLTextAreaElement ||
        (each instanceof HTMLInputElement &&
          ['text', 'search', 'email', 'tel', 'url', 'date', 'time', 'datetime-local'].includes(each.type))) &&
      each.autocomplete !== 'one-time-code' &&
      each.name !== '',
  )

/**
 * Keeps what is typed into a form of the bench for this tab, so that a reload, Back or a page that died loses nothing of it.
 * It goes once the form was taken. Null as the name keeps nothing.
 */
export function useTypedText(form: RefObject<HTMLFormElement | null>, name: string | null): { forget(): void } {
  useEffect(() => {
    const here = form.current
    if (!here || name === null || !location.pathname.startsWith('/bench')) return
    const place = placeOf(location.pathname, name)
    putBack(here, place)
    const keep = () => {
      const typed = typedIn(boxesOf(here))
      if (Object.keys(typed).length === 0) sessionStorage.removeItem(place)
      else sessionStorage.setItem(place, JSON.stringify(typed))
    }
    here.addEventListener('input', keep)
    return () => here.removeEventListener('input', keep)
  }, [form, name])
  return {
    forget: () => {
      if (name !== null && location.pathname.startsWith('/bench')) sessionStorage.removeItem(placeOf(location.pathname, name))
    },
  }
}

function putBack(form: HTMLFormElement, place: string): void {
  const kept = readKept(sessionStorage.getItem(place))
  for (const box of boxesOf(form)) {
    const text = kept[box.name]
    if (text === undefined || box.value === text) continue
    // A box whose value React holds learns of it as of typing: by its own setter and an event.
    const proto = box instanceof HTMLTextAreaElement ? HTMLTextAreaElement.prototype : HTMLInputElement.prototype
    Object.getOwnPropertyDescriptor(proto, 'value')?.set?.call(box, text)
    box.dispatchEvent(new Event('input', { bubbles: true }))
  }
}
