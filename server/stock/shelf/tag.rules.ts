import { hasGoodCheckCharacter } from '#kernel/ids'

/** A tag as printed, from how it was typed: "p 0012h" is P-0012-H. */
export function tagOf(typed: string): string {
  const bare = typed.normalize('NFKC').toUpperCase().replaceAll(/[\s-]/g, '')
  return bare.replace(/^([A-Z])(\d+)(.)$/, '$1-$2-$3')
}

const FIGURES = '0123456789'
const CHECKS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*'

/** Tags that are one wrong character or one swap of neighbours away, and whose own check character is right. */
export function nearTags(tag: string): string[] {
  const bare = tag.replaceAll('-', '').slice(0, 12)
  const near = new Set<string>()
  for (let at = 1; at < bare.length; at++) {
    const isLast = at === bare.length - 1
    for (const other of isLast ? CHECKS : FIGURES) near.add(bare.slice(0, at) + other + bare.slice(at + 1))
    if (!isLast) near.add(bare.slice(0, at) + (bare[at + 1] ?? '') + (bare[at] ?? '') + bare.slice(at + 2))
  }
  return [...near].filter((one) => one !== bare && /^[A-Z]\d+.$/.test(one) && hasGoodCheckCharacter(one)).map(tagOf)
}

const MOST_NEAR = 3

export const slipWords = (typed: string, near: readonly string[]): string =>
  `"${typed.trim().slice(0, 30)}" is not a tag: the last character does not fit the rest.${
    near.length > 0 ? ` One slip away: ${near.slice(0, MOST_NEAR).join(', ')}.` : ''
  }`
