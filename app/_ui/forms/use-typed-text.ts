'use client'

import { type RefObject, useEffect, useRef } from 'react'
import { type KeptField, keptFields } from './kept-fields'
import { placeOf, readKept, typedIn } from './typed-text.rules'

/**
 * Keeps what is typed and chosen in a form of the bench for this tab, so that a reload, Back or a page that died loses nothing of
 * it. It goes once the form was taken. Null as the name keeps nothing; `only` names the fields where not all are kept here.
 */
export function useTypedText(form: RefObject<HTMLFormElement | null>, name: string | null, only?: readonly string[]): { forget(): void } {
  const firsts = useRef(new WeakMap<HTMLElement, string>())
  useEffect(() => {
    const here = form.current
    if (!here || name === null || !location.pathname.startsWith('/bench')) return
    const place = placeOf(location.pathname, name)
    const fields = () =>
      withFirst(
        keptFields(here).filter((field) => only === undefined || only.includes(field.name)),
        firsts.current,
      )
    const kept = readKept(sessionStorage.getItem(place))
    const putBack = () => {
      for (const field of fields()) {
        const value = kept[field.name]
        if (value === undefined) continue
        delete kept[field.name]
        if (field.value === value) continue
        field.put(value)
        unfold(field.box)
      }
    }
    putBack()
    const keep = () => {
      const typed = { ...kept, ...typedIn(fields()) }
      if (Object.keys(typed).length === 0) sessionStorage.removeItem(place)
      else keepIn(place, JSON.stringify(typed))
    }
    // A choice that came back may open fields that were filled in, too.
    const later = new MutationObserver(() => {
      fields()
      if (Object.keys(kept).length > 0) putBack()
    })
    later.observe(here, { childList: true, subtree: true })
    here.addEventListener('input', keep)
    return () => {
      later.disconnect()
      here.removeEventListener('input', keep)
    }
  }, [form, name, only])
  return {
    forget: () => {
      firsts.current = new WeakMap()
      if (name !== null && location.pathname.startsWith('/bench')) sessionStorage.removeItem(placeOf(location.pathname, name))
    },
  }
}

/** What a field held when it was first seen: where React holds its value, what the page came with is written over as one types. */
function withFirst(fields: KeptField[], firsts: WeakMap<HTMLElement, string>): KeptField[] {
  return fields.map((field) => {
    const first = firsts.get(field.box) ?? field.defaultValue
    firsts.set(field.box, first)
    return { ...field, defaultValue: first }
  })
}

/** What came back is in sight, also where it was typed in a part that the page shows folded. */
function unfold(box: HTMLElement): void {
  for (let fold = box.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null) fold.open = true
}

/** A tab has room for some megabytes; what does not fit, such as a very long list, is on the page until it is left. */
function keepIn(place: string, text: string): void {
  try {
    sessionStorage.setItem(place, text)
  } catch (error) {
    if (!(error instanceof DOMException && error.name === 'QuotaExceededError')) throw error
  }
}
