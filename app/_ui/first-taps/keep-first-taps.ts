/**
 * What somebody taps, types or chooses before the page's own program has taken over counts: it is kept, and done again once the
 * program is there. Each control once, in the order in which they were first touched; what was written last stands.
 * It is written into every page as it stands, so it may use nothing from outside itself.
 */
export function keepFirstTaps(page: Document): void {
  const LOOK_MS = 30
  /** A form that the house takes from a browser without script as well waits no longer. */
  const PLAIN_AFTER_MS = 8_000
  const kept = new Map<Element, () => void>()
  let isBroken = false
  let looking: ReturnType<typeof setInterval> | undefined

  // React leaves its mark on each element that it has taken over, piece by piece.
  const isTakenOver = (element: Element) => Object.keys(element).some((key) => key.startsWith('__reactProps$'))

  // A part of the page that is drawn anew before it was taken over brings other elements that look the same.
  const GONE_MS = 10_000
  const goneSince = new Map<Element, number>()
  const isLongGone = (element: Element) => {
    const since = goneSince.get(element) ?? performance.now()
    goneSince.set(element, since)
    return element.localName !== 'button' || performance.now() - since > GONE_MS
  }
  const formOf = (element: Element) => element.closest('form')?.getAttribute('aria-label')
  /** The form in which a button stood when it was tapped. */
  const places = new Map<Element, string | null | undefined>()
  /** Of several that look the same nobody can tell which was meant: then the tap comes to nothing. */
  const twinOf = (element: Element): HTMLElement | undefined => {
    if (element.localName !== 'button') return undefined
    const { type, textContent } = element as HTMLButtonElement
    const alike = [...page.querySelectorAll('button')].filter(
      (one) => one.type === type && one.textContent === textContent && formOf(one) === places.get(element),
    )
    const [twin] = alike
    return alike.length === 1 && twin && isTakenOver(twin) ? twin : undefined
  }

  /** One at a time: what the first changes is to be drawn before the next. */
  const look = () => {
    for (const [element, again] of kept) {
      if (element.isConnected && !isTakenOver(element)) return
      if (!element.isConnected && twinOf(element) === undefined && !isLongGone(element)) continue
      kept.delete(element)
      again()
      return
    }
    if (kept.size > 0) return
    clearInterval(looking)
    looking = undefined
  }
  const keep = (element: Element, again: () => void) => {
    kept.set(element, again)
    looking ??= setInterval(look, LOOK_MS)
  }
  /** It is done again only if the button still says what it said: it may bind somebody by an amount. */
  const keepTap = (button: HTMLElement) => {
    const before = button.getAttribute('aria-busy')
    const said = button.textContent
    if (kept.has(button)) return
    button.setAttribute('aria-busy', 'true')
    places.set(button, formOf(button))
    keep(button, () => {
      if (before === null) button.removeAttribute('aria-busy')
      else button.setAttribute('aria-busy', before)
      const now = button.isConnected ? button : twinOf(button)
      if (now?.textContent === said) now.click()
    })
  }

  const onClick = ({ target }: Event) => {
    const button = (target as Element).closest?.<HTMLElement>('button')
    // A button that sends a form is kept where the form is; those that the browser itself answers need nothing.
    if (!button || isTakenOver(button) || isBroken) return
    if (button.getAttribute('type') === 'button' && !button.hasAttribute('popovertarget')) keepTap(button)
  }
  const onSubmit = (event: Event) => {
    const form = event.target as HTMLFormElement
    const { submitter } = event as SubmitEvent
    if (isBroken || isTakenOver(form) || (form.method === 'get' && form.hasAttribute('action'))) return
    event.preventDefault()
    const button = submitter ?? form.querySelector<HTMLElement>('[type="submit"]')
    if (button) keepTap(button)
    else keep(form, () => form.requestSubmit())
    if (!form.hasAttribute('action')) return
    setTimeout(() => {
      if (!kept.delete(button ?? form)) return
      isBroken = true
      form.requestSubmit(submitter)
    }, PLAIN_AFTER_MS)
  }
  const onWrite = ({ target }: Event) => {
    const field = target as HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement
    if (isTakenOver(field)) {
      kept.delete(field)
      return
    }
    if (field.localName === 'select' || field.type === 'file') {
      const chosen = field.type === 'file' ? null : field.value
      keep(field, () => {
        if (chosen !== null) field.value = chosen
        field.dispatchEvent(new Event('change', { bubbles: true }))
      })
    } else if (field.type === 'checkbox' || field.type === 'radio') {
      const box = field as HTMLInputElement
      const { checked } = box
      keep(box, () => {
        // Only what differs from what React last saw is told.
        box.checked = !checked
        box.click()
      })
    } else {
      const { value } = field
      keep(field, () => {
        field.value = `${value} `
        Object.getOwnPropertyDescriptor(Object.getPrototypeOf(field), 'value')?.set?.call(field, value)
        field.dispatchEvent(new Event('input', { bubbles: true }))
      })
    }
  }
  const onToggle = ({ target }: Event) => {
    const details = target as HTMLElement
    if (details.localName === 'details' && !isTakenOver(details)) keep(details, () => details.dispatchEvent(new Event('toggle')))
  }
  /** A program that cannot be loaded takes nothing over: what is sent from now on goes the way it goes without script. */
  const onError = ({ target }: Event) => {
    if ((target as Element).localName !== 'script') return
    isBroken = true
    for (const element of kept.keys()) {
      const form = element.localName === 'form' ? element : (element as HTMLButtonElement).form
      if (element.getAttribute('type') !== 'submit' && element !== form) continue
      ;(form as HTMLFormElement).requestSubmit(element === form ? null : (element as HTMLElement))
      break
    }
  }

  page.addEventListener('click', onClick, true)
  page.addEventListener('submit', onSubmit, true)
  page.addEventListener('input', onWrite, true)
  page.addEventListener('change', onWrite, true)
  page.addEventListener('toggle', onToggle, true)
  page.addEventListener('error', onError, true)
}
