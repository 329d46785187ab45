/**
 * A *no* that a person can cause. It carries a code from this list, the words that say what to do
 * next, and, where one field is to blame, that field's name as the form knows it.
 */
export const REFUSAL_CODES = [
  'not-signed-in',
  'confirm-first',
  'not-yours-to-do',
  'not-found',
  'bad-input',
  'conflict',
  'too-early',
  'too-late',
  'too-many',
  'too-large',
  'gate-closed',
  'on-hold',
  'no-room',
  'file-held',
  'unconfirmed',
] as const

export type RefusalCode = (typeof REFUSAL_CODES)[number]

/** Field names in a form's own terms, each with the sentence that belongs beside it. */
export type FieldWords = Record<string, string>

export class Refusal extends Error {
  readonly code: RefusalCode
  readonly fields: FieldWords

  constructor(code: RefusalCode, words: string, fields: FieldWords = {}) {
    super(words)
    this.name = 'Refusal'
    this.code = code
    this.fields = fields
  }

  /** One field is to blame: the same words stand in the summary and beside it. */
  static at(field: string, words: string, code: RefusalCode = 'bad-input'): Refusal {
    return new Refusal(code, words, { [field]: words })
  }
}
