import { Countdown } from '#app/_ui/countdown.tsx'
import type { DayMark } from '#app/_ui/dayline.rules.ts'
import { Dayline } from '#app/_ui/dayline.tsx'
import { Meter } from '#app/_ui/meter.tsx'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { lateWindowWords, USUAL_LATE_BID } from '#sale/price/late-bid.rules'
import styles from './pieces.module.css'
import { Section, State } from './state'

const ZONE = 'Europe/London'
const OPENS = Date.UTC(2027, 2, 13, 13, 0)
const CLOSES = OPENS + 12 * HOUR
const NOW = OPENS + 6 * HOUR + 34 * MINUTE + 18 * SECOND
const MARKS: readonly DayMark[] = [95, 170, 245, 330, 400, 470, 545, 620].map((minutes, index) => ({
  at: OPENS + minutes * MINUTE,
  label: `Lot ${index + 3}`,
  kind: index < 4 ? 'past' : index === 4 ? 'this' : 'coming',
}))
const PART = { remittedMinor: 0, paidMinor: 124000, wonMinor: 61000, bidMinor: 41000, targetMinor: 300000 }

const HOUSE = { serverNow: NOW, zone: ZONE, lateBid: USUAL_LATE_BID }

/** Countdown, dayline, meter. */
export function DayPieces({ onAir = false }: { onAir?: boolean }) {
  const day = { opensAt: OPENS, closesAt: CLOSES, now: NOW, zone: ZONE, marks: MARKS }
  if (onAir)
    return (
      <>
        <Countdown variant="clock" {...HOUSE} closesAt={OPENS + 400 * MINUTE} />
        <Meter {...PART} currency="GBP" size="air" />
      </>
    )
  return (
    <>
      <Section title="Countdown">
        <div className={styles.grid}>
          <State name="running">
            <Countdown {...HOUSE} closesAt={OPENS + 400 * MINUTE} />
          </State>
          <State name={`the last ${lateWindowWords()}`}>
            <Countdown {...HOUSE} closesAt={NOW + 75 * SECOND} />
          </State>
          <State name="days away">
            <Countdown {...HOUSE} closesAt={NOW + 50 * HOUR} />
          </State>
          <State name="held">
            <Countdown {...HOUSE} closesAt={OPENS + 400 * MINUTE} heldSince={NOW} />
          </State>
          <State name="time is up, the house has not spoken">
            <Countdown {...HOUSE} closesAt={NOW - SECOND} />
          </State>
          <State name="closed">
            <Countdown {...HOUSE} closesAt={NOW - 10 * MINUTE} state="ended" />
          </State>
          <State name="not planned yet">
            <Countdown {...HOUSE} closesAt={null} />
          </State>
        </div>
      </Section>
      <Section title="Dayline">
        <div className={styles.grid}>
          <State name="a lot of the day">
            <Dayline {...day} />
          </State>
          <State name="the last one, before the stream begins">
            <Dayline {...day} now={OPENS - HOUR} marks={MARKS.map((mark, i) => ({ ...mark, kind: i === 7 ? 'this' : 'coming' }))} />
          </State>
          <State name="no lot of its own">
            <Dayline {...day} marks={MARKS.map((mark) => ({ ...mark, kind: mark.at < NOW ? 'past' : 'coming' }))} />
          </State>
        </div>
      </Section>
      <Section title="Meter">
        <State name="on the way">
          <Meter {...PART} currency="GBP" />
        </State>
        <State name="nothing yet">
          <Meter remittedMinor={0} paidMinor={0} wonMinor={0} bidMinor={0} targetMinor={300000} currency="GBP" />
        </State>
        <State name="bids would pass the target">
          <Meter {...PART} bidMinor={150000} currency="GBP" />
        </State>
        <State name="past the target, partly with the cause">
          <Meter remittedMinor={180000} paidMinor={90000} wonMinor={94000} bidMinor={22000} targetMinor={300000} currency="GBP" />
        </State>
      </Section>
    </>
  )
}
