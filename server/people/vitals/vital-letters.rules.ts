import type { News } from '#runtime/vitals/news.rules'
import type { Vital } from '#runtime/vitals/vital'

/** One letter for all that is to be told at once. */
export function vitalLetter({ bad, over }: News, publicUrl: string): { subject: string; body: string } {
  const paragraphs = [
    ...bad.map(({ name, words, toDo }) => `${name}: ${words}${toDo === null ? '' : `\nWhat to do: ${toDo}`}`),
    ...over.map(({ name, words }) => `${name} is well again. ${words}`),
  ]
  const page = `How the house is at present: ${publicUrl}/bench/house`
  const once = bad.length > 0 ? 'You will get one more letter, when it is well again.' : 'There is nothing more to do about it.'
  return { subject: subjectOf(bad, over), body: `${paragraphs.join('\n\n')}\n\n${once}\n${page}` }
}

function subjectOf(bad: readonly Vital[], over: readonly Vital[]): string {
  const names = (of: readonly Vital[]) => of.map(({ name }, index) => (index === 0 ? name : name.toLowerCase())).join(', ')
  return bad.length > 0 ? `The house needs you: ${names(bad)}` : `Well again: ${names(over)}`
}
