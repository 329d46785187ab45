import { isKept } from './typed-text.rules'

/** A field of a form as it is kept over a reload, whatever it is on the page. */
export interface KeptField {
  box: HTMLElement
  name: string
  value: string
  /** What the page came with. */
  defaultValue: string
  /** Puts back what was there before, as of typing or choosing. */
  put(value: string): void
}

const TEXTS = ['text', 'search', 'email', 'tel', 'url', 'date', 'time', 'datetime-local']

/** Text, choices, ticks and what lies in a hidden field because it was taken already; codes that are good once and files are not among them. */
export function keptFields(form: HTMLFormElement): KeptField[] {
  return [...form.elements].flatMap((each): KeptField[] => {
    const field = fieldOf(each)
    return field && isKept(field.name) ? [field] : []
  })
}

function fieldOf(each: Element): KeptField | null {
  if (each instanceof HTMLSelectElement) return each.multiple ? null : choiceOf(each)
  if (each instanceof HTMLTextAreaElement) return textOf(each, HTMLTextAreaElement.prototype)
  if (!(each instanceof HTMLInputElement) || each.name === '') return null
  if (each.type === 'checkbox' || each.type === 'radio') return tickOf(each)
  if (each.type === 'hidden') return each.dataset.kept === undefined ? null : { ...textOf(each), defaultValue: each.dataset.kept }
  return TEXTS.includes(each.type) && each.autocomplete !== 'one-time-code' ? textOf(each) : null
}

// A box whose value React holds learns of it as of typing: by its own setter and an event.
const write = (proto: object, box: HTMLElement, value: string) => Object.getOwnPropertyDescriptor(proto, 'value')?.set?.call(box, value)
const tell = (box: HTMLElement, ...events: string[]) => {
  for (const event of events) box.dispatchEvent(new Event(event, { bubbles: true }))
}

const textOf = (box: HTMLInputElement | HTMLTextAreaElement, proto: object = HTMLInputElement.prototype): KeptField => ({
  box,
  name: box.name,
  value: box.value,
  defaultValue: box.defaultValue,
  put: (value) => {
    write(proto, box, value)
    tell(box, 'input')
  },
})

const choiceOf = (box: HTMLSelectElement): KeptField => ({
  box,
  name: box.name,
  value: box.value,
  defaultValue: ([...box.options].find(({ defaultSelected }) => defaultSelected) ?? box.options[0])?.value ?? '',
  put: (value) => {
    // What is no longer offered cannot be chosen again.
    if (![...box.options].some((option) => option.value === value)) return
    write(HTMLSelectElement.prototype, box, value)
    tell(box, 'input', 'change')
  },
})

const tickOf = (box: HTMLInputElement): KeptField => ({
  box,
  name: `${box.name}=${box.value}`,
  value: box.checked ? 'yes' : '',
  defaultValue: box.defaultChecked ? 'yes' : '',
  put: (value) => {
    const isTicked = value === 'yes'
    // Of several buttons the one that was chosen takes the mark from the others.
    if (isTicked !== box.checked && (isTicked || box.type === 'checkbox')) box.click()
  },
})
