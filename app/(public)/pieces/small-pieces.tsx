import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Money } from '#app/_ui/money.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { When } from '#app/_ui/when.tsx'
import styles from './pieces.module.css'
import { Section, State } from './state'

const TONES: readonly Tone[] = ['plain', 'copper', 'ok', 'doubt', 'bad']
const CLOSES = Date.UTC(2027, 2, 13, 19, 40)

/** Tag, chip, notice, empty state, crumbs, money, time, buttons. */
export function SmallPieces() {
  return (
    <>
      <Section title="Tag">
        <div className={styles.grid}>
          <State name="a card with a title and a chip">
            <Tag code="Lot 7 · TERN-03" aside={<Chip tone="ok">Tested, 29 of 29</Chip>}>
              <h3 style={{ fontSize: 'var(--t2)' }}>Saltmarsh shortwave receiver, 5.9–10.1 MHz</h3>
            </Tag>
          </State>
          <State name="a card with a line below the code">
            <Tag code="TERN-05">
              <span className="quiet">Saltmarsh SR-3, rev C</span>
            </Tag>
          </State>
          <State name="small, in each tone; the words stand beside it">
            <div className="row">
              {TONES.map((tone) => (
                <Tag key={tone} size="small" tone={tone} code={`TERN-0${TONES.indexOf(tone) + 1}`} href="#tag" />
              ))}
            </div>
          </State>
        </div>
      </Section>
      <Section title="Chip and notice">
        <div className={styles.swatches}>
          <Chip>Promised</Chip>
          <Chip tone="copper">Open</Chip>
          <Chip tone="ok">Passed</Chip>
          <Chip tone="doubt">Passed within doubt</Chip>
          <Chip tone="bad">Set aside</Chip>
        </div>
        <div className={styles.grid}>
          <Notice title="The stream begins at 13:00.">
            <p>Until then bids are taken, and no lot closes.</p>
          </Notice>
          <Notice tone="ok" title="Parcel logged.">
            <p>Six displays, for WREN-06.</p>
          </Notice>
          <Notice tone="doubt" title="All clocks are held.">
            <p>The stream was lost. Bids are taken again when it is back, with the time that was lost added.</p>
          </Notice>
          <Notice tone="bad" title="Set aside: batch B-0147 is suspect.">
            <p>Its certificate is withdrawn, and its lot cannot open.</p>
          </Notice>
        </div>
      </Section>
      <Section title="Empty state and crumbs">
        <Crumbs
          trail={[
            { label: 'Pieces', href: '/pieces' },
            { label: 'Empty state', href: '#empty-state-and-crumbs' },
          ]}
        />
        <EmptyState
          title="No parcel has come yet."
          action={
            <a className="button" href="#form">
              Log the first
            </a>
          }
        >
          <p>When one does, log it here while it is still in your hands: who sent it, what is in it, how many.</p>
        </EmptyState>
      </Section>
      <Section title="Money, time, buttons">
        <dl className={styles.grid}>
          <div>
            <dt>exact, short, no minor unit, negative</dt>
            <dd className="row">
              <Money minor={124050} currency="GBP" /> <Money minor={16500} currency="GBP" short /> <Money minor={4200} currency="JPY" />{' '}
              <Money minor={-950} currency="EUR" />
            </dd>
          </div>
          <div>
            <dt>time</dt>
            <dd>
              <When at={CLOSES} zone="Europe/London" show="time" />
            </dd>
          </div>
          <div>
            <dt>day and time</dt>
            <dd>
              <When at={CLOSES} zone="Pacific/Auckland" />
            </dd>
          </div>
          <div>
            <dt>brief, for tables</dt>
            <dd>
              <When at={CLOSES} zone="America/New_York" brief />
            </dd>
          </div>
        </dl>
        <div className="row">
          <a className="button" href="#money-time-buttons">
            Bid up to £210.00
          </a>
          <a className="button-line" href="#money-time-buttons">
            See the record
          </a>
          <a className="button-bad" href="#money-time-buttons">
            Withdraw it
          </a>
        </div>
      </Section>
    </>
  )
}
