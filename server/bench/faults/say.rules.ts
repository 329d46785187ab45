import type { Posterior, Seen } from './suspects.rules'

/** What the evidence comes to, in sentences: how many faults it takes to explain it, and what speaks against that. */
export function sayEvidence({ faults, suspicions, shares }: Posterior, seen: readonly Seen[], stands: readonly Seen[]): string[] {
  const failed = [...new Set(seen.filter((one) => one.failed).map(({ check }) => check))]
  const whatFailed = sayFailed(failed, stands)
  if (failed.length === 0) {
    return ['No current check fails: the readings only clear blocks. If the fault comes and goes, take the checks that had failed again.']
  }
  const [top] = [...suspicions].sort((a, b) => b.weight - a.weight)
  const pair = top?.blocks.join(' and ') ?? ''
  if (faults === 'more') {
    return [
      `Not even two blocks explain that ${whatFailed}, with what passed. Either more is wrong, or a reading is wrong: first take ${failed[0]} again.`,
    ]
  }
  if (faults === 'two') {
    return [`No single block explains that ${whatFailed}. Two faults at once are tried: most likely ${pair}.`]
  }
  if (faults === 'two likelier') {
    return [`One block could explain what was seen, but two faults at once explain it better: most likely ${pair}.`]
  }
  const likely = [...shares].filter(([, share]) => share >= 0.01).length
  const left = likely === 1 ? 'one block is left' : `${likely} blocks are left with one chance in a hundred or more`
  return [`One fault is assumed: ${whatFailed}, and ${left}. A pass makes a block less likely; it clears none.`]
}

/** "C3 failed", and of what was taken again and passes, "C12 failed at first and passes now". */
export function sayFailed(failed: readonly string[], stands: readonly Seen[]): string {
  const passNow = failed.filter((check) => stands.some((one) => one.check === check && !one.failed))
  const stillFail = failed.filter((check) => !passNow.includes(check))
  return [
    ...(stillFail.length > 0 ? [`${list(stillFail)} failed`] : []),
    ...(passNow.length > 0 ? [`${list(passNow)} failed at first and ${passNow.length === 1 ? 'passes' : 'pass'} now`] : []),
  ].join(', ')
}

function list(names: readonly string[]): string {
  const last = names.at(-1) ?? ''
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`
}
