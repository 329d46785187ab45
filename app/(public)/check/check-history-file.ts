import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { headSigner } from '#app/_trust/head-signers.ts'
import { checkHistory, checkTree, faultAround, type Finding as HistoryFinding, signedHeads } from '#sale/history/check-history.rules'
import { type History, historyShape } from '#sale/history/history.contract'
import { type Finding, type KeysAtHand, type Value, VERDICTS, type Verdict } from './finding'

export interface CheckedHistory {
  findings: Finding[]
  /** The history, where a key of the house signed every head of it: it can be held against others. What a stranger signed accuses nobody. */
  ours: History | null
}

/** The history of a lot: whose it is and whether it is whole, then each thing that was looked at. */
export async function checkHistoryFile(name: string, value: Value, keys: KeysAtHand): Promise<CheckedHistory> {
  const findings = checkHistory(value)
  const read = historyShape.safeParse(value)
  const history = read.success ? read.data : null
  const { isOurs, ...verdict } = await verdictOn(findings, history, keys)
  const told: Finding[] = [
    {
      about: name,
      words: history ? `Lot ${history.lot}, ${history.title}: ${history.leaves.length} entries, ${history.state}.` : '',
      ...verdict,
      ...(verdict.tone === 'ok' && history && { history }),
    },
    ...findings.map(
      ({ isSound, words }): Finding => ({ tone: isSound ? 'ok' : 'bad', about: name, title: isSound ? 'Holds' : 'Does not hold', words }),
    ),
  ]
  return { findings: told, ours: isOurs ? history : null }
}

async function verdictOn(
  findings: readonly HistoryFinding[],
  history: History | null,
  keys: KeysAtHand,
): Promise<Verdict & { isOurs?: true }> {
  const around = history && faultAround(history)
  if (around) return VERDICTS.changed(around)
  const wrong = findings.find(({ isSound }) => !isSound)
  if (wrong && (!history || !checkTree(history).isSound)) return VERDICTS.changed(wrong.words)
  let foreign: string | null = null
  for (const note of history ? signedHeads(history) : []) {
    const own = await headSigner(note, keys.house, verifyEd25519)
    if (own.is === 'signed') continue
    if (own.is === 'unfit')
      return VERDICTS.changed(`The signature of the head at ${note.head.size} entries does not fit the key that it names.`)
    const other = await headSigner(note, keys.brought, verifyEd25519)
    if (other.is === 'unfit') return VERDICTS.changed(`The signature of the head at ${note.head.size} entries does not fit.`)
    if (other.is === 'unknown') {
      return keys.house.length === 0
        ? VERDICTS.untold('No key is at hand. Choose the key set (jwks.json) as well.')
        : VERDICTS.stranger(null)
    }
    foreign = other.kid
  }
  if (foreign !== null) return VERDICTS.foreign(foreign)
  return { ...(wrong ? VERDICTS.wrong(wrong.words) : VERDICTS.ours()), isOurs: true }
}
