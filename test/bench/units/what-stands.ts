import type { Check, Feed } from '#bench/designs/design.contract'

/** What happened to a unit, in order: a reading of a check, or a change of blocks. */
export type Event =
  | { kind: 'reading'; check: string; passes: boolean }
  | { kind: 'first fitting' | 'correction'; blocks: string[] }
  | { kind: 'change'; blocks: string[]; iron: boolean }

/**
 * The rule, written a second time and otherwise than in the house: from the readings' side, with every path of the
 * block graph laid out beforehand.
 *
 * A reading stands while it is the last of its check and nothing was changed since that it speaks of. It speaks of a
 * change if one of its blocks is a changed one, or gets power or signal from a changed one, however far along; if it
 * reads a current or a ripple of a block that powers a changed one, however far back; if an iron was used and it looks
 * or is taken cold, whatever it looks at; and if it is a soak or a close-out, of any change. First fittings in their turn and corrections of the record change nothing.
 */
export function whatStands(checks: readonly Check[], feeds: readonly Feed[], events: readonly Event[]): Map<string, number> {
  const reaches = pathsOver(feeds)
  const powers = pathsOver(feeds.filter(({ kind }) => kind === 'power'))
  const stands = new Map<string, number>()
  for (const check of checks) {
    const last = events.findLastIndex((event) => event.kind === 'reading' && event.check === check.key)
    if (last < 0) continue
    const since = events.slice(last + 1)
    if (!since.some((event) => event.kind === 'change' && speaksOf(check, event.blocks, event.iron))) stands.set(check.key, last)
  }
  return stands

  function speaksOf(check: Check, changed: readonly string[], iron: boolean): boolean {
    if (check.kind === 'soak' || check.stage === 'close-out') return true
    if (iron && looks(check)) return true
    return check.exercises.some((own) => {
      return changed.some((block) => {
        if (own === block || reaches.has(`${block}>${own}`)) return true
        const isSupply = powers.has(`${own}>${block}`)
        return isSupply && (check.unit === 'mA' || check.title.includes('ripple'))
      })
    })
  }
}

const looks = ({ stage }: Check) => stage === 'visual' || stage === 'cold'

/** Warshall's closure: "a>b" for every way from a to b. */
function pathsOver(feeds: readonly Feed[]): Set<string> {
  const names = [...new Set(feeds.flatMap(({ from, to }) => [from, to]))]
  const paths = new Set(feeds.map(({ from, to }) => `${from}>${to}`))
  for (const by of names)
    for (const from of names) for (const to of names) if (paths.has(`${from}>${by}`) && paths.has(`${by}>${to}`)) paths.add(`${from}>${to}`)
  return paths
}
