import type { AtHome, Check, CheckKind } from './design.contract'

/** A certificate has room for so many, and a buyer hardly has the patience for more. */
export const MOST_AT_HOME = 5

/** What the columns are called, and what they hold. */
export const AT_HOME_COLUMNS = { touch: 'touch at home', needs: 'needed at home', signs: 'look and listen' } as const satisfies Record<
  keyof AtHome,
  string
>

const MOST = 400

/** What asks for a caution where hands come near it. */
const DANGEROUS = /\b(?:mains|cells?|batter(?:y|ies)|capacitors?|high voltage)\b/i

interface Written extends AtHome {
  kind: CheckKind
  title: string
  caution: string
}

/** Reads how a check is repeated at home; undefined where it is not opened for it. What is wrong is said by column. */
export function readAtHome(
  { kind, title, caution, ...said }: Written,
  complain: (column: string, words: string) => void,
): AtHome | undefined {
  const { touch, needs, signs } = said
  if (touch === '' && needs === '' && signs === '') return undefined
  for (const name of ['touch', 'needs', 'signs'] as const)
    if (said[name].length > MOST) complain(AT_HOME_COLUMNS[name], `Keep it under ${MOST} characters.`)
  if (kind === 'match' || kind === 'soak')
    complain(AT_HOME_COLUMNS.touch, 'A match or a soak cannot be repeated at home. Leave these three columns empty.')
  if (touch === '' && signs === '') complain(AT_HOME_COLUMNS.touch, 'Say where to touch, or what to look and listen for.')
  if (caution === '' && [title, touch, signs].some((words) => DANGEROUS.test(words)))
    complain(
      'caution',
      'It is opened for home and comes near mains, a cell, a battery or a capacitor. Write a caution for whoever does it there.',
    )
  return said
}

/** The check with which one too many is opened; undefined where there is none. */
export const oneTooMany = <Row extends { check: Check }>(rows: readonly Row[]): Row | undefined =>
  rows.filter(({ check }) => check.atHome)[MOST_AT_HOME]
