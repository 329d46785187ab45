import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import type { Flaw } from './design.contract'
import type { DesignRow } from './designs.store'
import { type DesignDraft, type ImportChoices, readImport, readPartsImport, type SheetReading } from './import.rules'
import { saidBeyondNames } from './stage-kinds.rules'

type Source = Uint8Array | string

/** What is said of a design beside its lists. */
export type Said = Pick<DesignRow, 'name' | 'decisionRule' | 'quirks' | 'cautions'>

/** Lists to be read: all three, or a parts list alone for a design that is there. */
export interface ListOrder {
  sources: Record<Flaw['list'], Source> | { partsList: Source; of: Omit<DesignDraft, 'lines'> }
  choices: ImportChoices
  /** Given by whoever stores what was read; without it the rows are answered with what was understood of each. */
  said?: Said
}

export interface ListsRead {
  flaws: Flaw[]
  sheets: SheetReading[]
  /** What is to be stored, for whoever stores it and only without a flaw. */
  whole: { draft: DesignDraft; digest: string } | null
}

/** Reads lists as they come. Thousands of rows take long: see `list-reader.ts`. */
export function readLists({ sources, choices, said }: ListOrder): ListsRead {
  const { sheets, flaws, draft } = 'of' in sources ? readAlone(sources, choices) : readImport(sources, choices)
  if (said === undefined) return { flaws, sheets, whole: null }
  return { flaws, sheets: [], whole: flaws.length > 0 ? null : { draft, digest: digestOf(said, draft) } }
}

function readAlone({ partsList, of }: { partsList: Source; of: Omit<DesignDraft, 'lines'> }, choices: ImportChoices) {
  const { sheet, flaws, lines } = readPartsImport(partsList, of, choices.partsList)
  const { checks, feeds, blocks } = of
  return { sheets: [sheet], flaws, draft: { checks, feeds, blocks, lines } }
}

/** Of what the lists say, not of how they are written: another delimiter is the same design. */
function digestOf({ name, decisionRule, quirks, cautions }: Said, { checks, lines, feeds, blocks }: DesignDraft): string {
  const ordered = [...lines.filter(({ notFitted }) => !notFitted), ...lines.filter(({ notFitted }) => notFitted)]
  const said = ordered.map(({ line: _line, understood: _understood, hint: _hint, substitutes, notFitted, ...rest }) => {
    return { ...rest, ...(substitutes.length === 0 ? {} : { substitutes }), ...(notFitted ? { notFitted } : {}) }
  })
  const content =
    canonicalize({ name, decisionRule, quirks, cautions, checks: checks.map(saidBeyondNames), lines: said, feeds, blocks }) ?? ''
  return createHash('sha256').update(content).digest('hex')
}
