'use client'

import { type Currency, showMoney } from '#kernel/money'
import type { ProblemState } from '#money/sending/problem.rules'
import type { ProblemView } from '#money/sending/sending.contract'
import { Chip } from './chip'
import { classes } from './classes'
import styles from './problem-talk.module.css'
import type { Tone } from './tone'
import { When } from './when'

const TONES: Record<ProblemState, Tone> = {
  'first answer due': 'doubt',
  'first answer late': 'bad',
  'waiting for us': 'doubt',
  'answer late': 'bad',
  'waiting for the buyer': 'plain',
  closed: 'ok',
}

const FOR_BUYER: Record<ProblemState, string> = {
  'first answer due': 'Waits for a first answer',
  'first answer late': 'The first answer is late',
  'waiting for us': 'Waiting for us',
  'answer late': 'Our answer is late',
  'waiting for the buyer': 'Waiting for you',
  closed: 'Closed',
}

const ENDS = { replaced: 'A part was replaced.', refunded: 'The money was refunded.', explained: 'It was explained.' } as const

export interface ProblemTalkProps {
  problem: ProblemView
  zone: string
  currency: Currency
  reader: 'buyer' | 'staff'
}

/** One reported problem: where it stands, its clock, and what each side said in order. */
export function ProblemTalk({ problem, zone, currency, reader }: ProblemTalkProps) {
  const words = reader === 'buyer' ? FOR_BUYER[problem.state] : `${problem.state.charAt(0).toUpperCase()}${problem.state.slice(1)}`
  return (
    <div className="stack">
      <h2 className="row">
        A problem was reported <Chip tone={TONES[problem.state]}>{words}</Chip>
      </h2>
      {problem.clock !== '' && (
        <p>
          <b>{problem.clock}</b>, until <When at={problem.answerDueAt} zone={zone} />
        </p>
      )}
      <ol className={`plain-list ${styles.notes}`}>
        {problem.notes.map(({ at, side, by, words: said, photoSha }) => (
          <li key={`${at} ${side} ${said}`} className={classes(styles.note, styles[side])}>
            <p className="small quiet">
              {side === 'staff' ? (reader === 'buyer' ? 'The bench' : by) : reader === 'buyer' ? 'You' : by},{' '}
              <When at={at} zone={zone} brief />
            </p>
            <p>{said}</p>
            {photoSha !== null && (
              <a href={`/files/${photoSha}-1600.webp`}>
                {/* biome-ignore lint/performance/noImgElement: it is kept in its sizes already */}
                <img src={`/files/${photoSha}-480.webp`} alt="What was reported, as it looks" loading="lazy" />
              </a>
            )}
          </li>
        ))}
      </ol>
      {problem.endedAs && (
        <p>
          <b>{ENDS[problem.endedAs]}</b> {problem.refundMinor !== null && `${showMoney(problem.refundMinor, currency)}. `}
          {problem.endedWords}
        </p>
      )}
    </div>
  )
}
