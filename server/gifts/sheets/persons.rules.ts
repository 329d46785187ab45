import { groupBy } from '#kernel/group'
import { mailHint } from '#stock/donors/mail-hint.rules'
import { nameKey } from '#stock/donors/merge.rules'
import { inLines, type Notes } from './notes.rules'

/** A row that names somebody. */
export interface Mention {
  line: number
  name: string
  mail: string
}

export interface KnownDonor {
  id: string
  name: string
  creditName: string
  contact: string
}

/** Somebody of a sheet: a donor who is here already, or a new one under a key of the plan. */
export interface SheetPerson {
  donor: string
  isHere: boolean
  name: string
  mail: string
  lines: number[]
}

const NOBODY = /^(?:unknown|anonymous|anonym|unbekannt|anonyme|inconnu|nobody knows|n\/?a|\?+|-+)$/i

/** A name that says that nobody knows who it was. */
export const isNobody = (name: string): boolean => NOBODY.test(name.trim())

/**
 * Who the rows of a sheet are about. Rows with one name or one email address are asked about, and so is everybody who may be
 * a donor here already: two people of one name are never made one, nor one made two, without somebody saying so.
 */
export function personsOf(mentions: readonly Mention[], known: readonly KnownDonor[], notes: Notes): SheetPerson[] {
  const groups = clusters(mentions.filter(({ name }) => !isNobody(name))).flatMap((cluster) => apart(cluster, notes))
  const find = finderOf(known)
  const named = groups.map((own, index): SheetPerson => {
    const [first] = own
    const name = first?.name ?? ''
    const mail = own.find((one) => one.mail !== '')?.mail ?? ''
    const person = { donor: `new ${index}`, isHere: false, name, mail, lines: own.map(({ line }) => line) }
    const here = askHere(person, find(own), notes)
    return here === null ? person : { ...person, donor: here.id, isHere: true, name: here.name }
  })
  const nobodies = mentions
    .filter(({ name }) => isNobody(name))
    .map(
      ({ line }): SheetPerson => ({
        donor: `nobody ${line}`,
        isHere: false,
        name: `Sender not known (line ${line})`,
        mail: '',
        lines: [line],
      }),
    )
  return [...named, ...nobodies]
}

/** Mentions that share a name or an email address with one another, in the order of their first lines. */
function clusters(mentions: readonly Mention[]): Mention[][] {
  const parent = mentions.map((_, index) => index)
  const rootOf = (index: number): number => {
    let at = index
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] ?? at] ?? at
      at = parent[at] ?? at
    }
    return at
  }
  const firsts = new Map<string, number>()
  for (const [index, one] of mentions.entries()) {
    for (const key of [`name ${nameKey(one.name)}`, ...(one.mail === '' ? [] : [`mail ${one.mail.toLowerCase()}`])]) {
      const first = firsts.get(key)
      if (first === undefined) firsts.set(key, index)
      else parent[Math.max(rootOf(index), rootOf(first))] = Math.min(rootOf(index), rootOf(first))
    }
  }
  return [...groupBy([...mentions.entries()], ([index]) => rootOf(index)).values()].map((own) => own.map(([, one]) => one))
}

/** One donor or several, as whoever owns the sheet says. */
function apart(cluster: readonly Mention[], notes: Notes): Mention[][] {
  const [first] = cluster
  if (!first || cluster.length === 1) return [[...cluster]]
  const mails = new Set(cluster.flatMap(({ mail }) => (mail === '' ? [] : [mail.toLowerCase()])))
  const names = [...new Set(cluster.map(({ name }) => name))]
  const answer = notes.ask({
    key: `twin ${nameKey(first.name)} ${first.mail.toLowerCase()}`,
    group: 'twin',
    words: `${twinWords(names, mails.size)} ${inLines(cluster.map(({ line }) => line))}. Is it one donor?`,
    options: [
      { value: 'one', label: 'One donor' },
      ...(mails.size > 1 ? [{ value: 'mail', label: 'One for each email address' }] : []),
      { value: 'each', label: 'A different person in each line' },
    ],
  })
  if (answer === 'each') return cluster.map((one) => [one])
  if (answer !== 'mail') return [[...cluster]]
  // A line without an address goes with the first that has one.
  const home = cluster.find(({ mail }) => mail !== '')?.mail.toLowerCase() ?? ''
  return [...groupBy(cluster, ({ mail }) => mail.toLowerCase() || home).values()]
}

function twinWords(names: readonly string[], mails: number): string {
  const [one = '', two = ''] = names
  if (names.length === 1) return mails > 1 ? `“${one}” stands with ${mails} email addresses` : `“${one}” stands`
  return `“${one}” and “${two}”${names.length > 2 ? ` and ${names.length - 2} more` : ''} stand with one email address or one name`
}

function finderOf(known: readonly KnownDonor[]): (own: readonly Mention[]) => KnownDonor[] {
  const byMail = groupBy(
    known.filter(({ contact }) => contact !== ''),
    ({ contact }) => contact.toLowerCase(),
  )
  const byName = new Map<string, KnownDonor[]>()
  for (const one of known)
    for (const key of new Set([nameKey(one.name), nameKey(one.creditName)])) byName.set(key, [...(byName.get(key) ?? []), one])
  return (own) => {
    const found = own.flatMap(({ name, mail }) => [...(byMail.get(mail.toLowerCase()) ?? []), ...(byName.get(nameKey(name)) ?? [])])
    return [...new Map(found.map((one) => [one.id, one])).values()]
  }
}

const MOST_OFFERED = 5

/** The donor who is meant and is here already; null for a new one. */
function askHere({ name, mail, lines }: SheetPerson, matches: readonly KnownDonor[], notes: Notes): KnownDonor | null {
  const [best] = matches
  if (!best) return null
  const called = (one: KnownDonor) => (one.contact === '' ? one.name : `${one.name}, ${mailHint(one.contact)}`)
  const answer = notes.ask({
    key: `here ${nameKey(name)} ${mail.toLowerCase()} ${lines[0]}`,
    group: 'here',
    words: `“${name}” ${inLines(lines)}: a donor called ${best.name} is here already. Is it the same person?`,
    options: [
      { value: 'same', label: `The same: ${called(best)}` },
      ...matches.slice(1, MOST_OFFERED).map((one) => ({ value: `same ${one.id}`, label: `The same: ${called(one)}` })),
      { value: 'other', label: 'Another person' },
    ],
  })
  if (answer === 'other') return null
  const meant = matches.find(({ id }) => answer === `same ${id}`) ?? best
  if (answer !== null && mail !== '' && mail.toLowerCase() !== meant.contact.toLowerCase())
    for (const line of lines.slice(0, 1)) notes.hint(line, `The donor who is here keeps what is known of them; ${mail} is not stored.`)
  return meant
}
