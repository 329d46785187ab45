import type { FirstStep } from './first-steps.contract'

/** What there is in a house that has never opened a lot. */
export interface FirstFacts {
  hasCampaign: boolean
  /** The designs, the newest last. */
  designs: readonly { id: string; name: string }[]
  units: number
  batches: number
  /** The unit that has come furthest and has no certificate yet. */
  atBench: string | null
  certificates: number
  /** The lot that lacks least, with what it lacks. */
  lot: { number: number; missing: readonly { words: string; where: { href: string; label: string } }[] } | null
}

type Step = Omit<FirstStep, 'state'> & { isDone: boolean }

/** The way to the first open lot. Nothing is ticked by hand, so whoever comes back finds what is next. */
export function firstSteps(facts: FirstFacts): FirstStep[] {
  const steps = stepsOf(facts)
  const next = steps.find(({ isDone }) => !isDone)
  return steps.map(({ isDone, ...step }) => ({ ...step, state: isDone ? 'done' : step.key === next?.key ? 'open' : 'not-yet' }))
}

function stepsOf({ hasCampaign, designs, units, batches, atBench, certificates, lot }: FirstFacts): Step[] {
  const design = designs.at(-1)
  const isCertified = certificates > 0 || lot !== null
  const [missing] = lot?.missing ?? []
  return [
    {
      key: 'campaign',
      title: 'Set up the campaign',
      isDone: hasCampaign,
      words: 'Who benefits, who sells, the currency, and when the stream runs. What you do not know yet can wait.',
      href: '/bench/campaign',
      link: 'The campaign',
    },
    {
      key: 'design',
      title: 'Import a design',
      isDone: design !== undefined,
      words: design
        ? `${design.name} is here.`
        : 'Its parts list and its checklist, as tables: you see how each is read before anything is kept.',
      href: design ? '/bench/designs' : '/bench/designs/import',
      link: design ? 'Designs' : 'Import it',
    },
    {
      key: 'run',
      title: 'Make a run of it',
      isDone: units > 0,
      words:
        units > 0
          ? `${count(units, 'unit has', 'units have')} a tag.`
          : 'Choose the letters of its tags and how many machines you mean to build.',
      href: design ? `/bench/designs/${design.id}` : '/bench/designs',
      link: design ? design.name : 'Designs',
    },
    {
      key: 'parts',
      title: 'Log what was given',
      isDone: batches > 0 || isCertified,
      words:
        batches > 0
          ? `${count(batches, 'batch is', 'batches are')} on the shelf.`
          : 'Each parcel with its donor and how they wish to be named; what you bought goes on the shelf from the page of its part.',
      href: batches > 0 ? '/bench/parcels' : '/bench/parcels/new',
      link: batches > 0 ? 'Parcels' : 'Log a parcel',
    },
    {
      key: 'certificate',
      title: 'Build the first machine, test it and certify it',
      isDone: isCertified,
      words: isCertified ? 'The first certificate has been issued.' : 'Its page says which parts and which check come next, one at a time.',
      href: atBench ? `/bench/units/${atBench}` : '/bench/designs',
      link: atBench ?? 'Designs',
    },
    {
      key: 'lot',
      title: 'Start its lot',
      isDone: lot !== null,
      words: lot ? `Lot ${lot.number} has been started.` : 'A certified machine can be put in a lot.',
      href: lot ? `/bench/lots/${lot.number}` : '/bench/lots',
      link: lot ? `Lot ${lot.number}` : 'Lots',
    },
    {
      key: 'prepare',
      title: 'Prepare it',
      isDone: lot !== null && missing === undefined,
      words: missing
        ? stillToDo(missing.words, (lot?.missing.length ?? 1) - 1)
        : 'Title and story, a photograph, prices, postage and its closing in the programme.',
      href: missing?.where.href ?? (lot ? `/bench/lots/${lot.number}` : '/bench/lots'),
      link: missing?.where.label ?? (lot ? `Lot ${lot.number}` : 'Lots'),
    },
    {
      key: 'open',
      title: 'Open it',
      isDone: false,
      words: 'From then on strangers can bid on it.',
      href: lot ? `/bench/lots/${lot.number}` : '/bench/lots',
      link: lot ? `Lot ${lot.number}` : 'Lots',
    },
  ]
}

const count = (many: number, one: string, more: string): string => (many === 1 ? `One ${one}` : `${many} ${more}`)

const stillToDo = (first: string, more: number): string =>
  more === 0 ? `${first} That is the last thing.` : `${first} ${count(more, 'more thing is', 'more things are')} missing after that.`
