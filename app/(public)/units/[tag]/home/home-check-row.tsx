'use client'

import { Chip } from '#app/_ui/chip.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Gauge } from '#app/_ui/gauge.tsx'
import { HowAtHome } from '#app/(public)/units/[tag]/how-at-home.tsx'
import { compareAtHome, type HomeCheck, type HomeStep } from '#bench/certificates/home.rules'
import { doubtShort, limitsWords, plainSentence, shownWithUnit } from '#bench/certificates/sentences.rules'
import styles from './home.module.css'

interface Props {
  check: HomeStep
  written: string
  meter: string
  onWrite: (text: string) => void
}

/** One check: what it means, what the bench found, a line for what is found here, and both on gauges one above the other. */
export function HomeCheckRow({ check, written, meter, onWrite }: Props) {
  const answer = written.trim() === '' ? null : compareAtHome(check, written, meter)
  const limits = limitsWords(check)
  const isWord = check.value === null || check.kind === 'yesno'
  // Its maker says what to look and listen for, and not where to measure.
  const isBySigns = check.home !== undefined && check.home.touch === ''
  return (
    <li className={styles.check}>
      <div>
        <h3>
          <span className="num quiet">{check.check}</span> {check.title}
        </h3>
        <p className="small quiet">
          {plainSentence(check)} {limits && `It should be ${limits}.`}
        </p>
        <HowAtHome step={check} />
        <TextField
          name={`reading-${check.check}`}
          label={
            isBySigns
              ? 'Is it as described above: yes or no?'
              : isWord
                ? 'What do you find: yes or no?'
                : `What does your meter show${check.unit ? `, in ${check.unit}` : ''}?`
          }
          hint={
            !isWord && !isBySigns && check.home?.signs ? 'Without a meter: yes if it is as described above, no if it is not.' : undefined
          }
          optional
          value={written}
          maxLength={40}
          inputMode={isWord || check.home?.signs ? 'text' : 'decimal'}
          onChange={(event) => onWrite(event.target.value)}
          error={answer && !answer.ok ? answer.words : undefined}
          width="short"
          mono
        />
      </div>
      <div className={styles.beside}>
        <Reading who="Bench" check={check} shown={shownWithUnit(check)} value={check.value} doubt={check.doubt} verdict={check.verdict} />
        {answer?.ok && (
          <>
            <Reading
              who="You"
              check={check}
              shown={answer.found.shown}
              value={answer.found.value}
              doubt={answer.found.doubt}
              verdict={null}
            />
            <p>
              <Chip tone={answer.found.agrees ? 'ok' : 'bad'}>{answer.found.agrees ? 'Agrees' : 'Differs'}</Chip> {answer.found.words}
            </p>
          </>
        )}
      </div>
    </li>
  )
}

interface ReadingProps {
  who: string
  check: HomeCheck
  shown: string
  value: number | null
  doubt: number | null
  verdict: HomeCheck['verdict'] | null
}

function Reading({ who, check, shown, value, doubt, verdict }: ReadingProps) {
  const hasScale = value !== null && (check.lower !== null || check.upper !== null)
  return (
    <div className={styles.reading}>
      <span>
        {who} <b className="num">{shown}</b>
        {doubt ? <span className="num quiet"> ± {doubtShort(doubt)}</span> : null}
      </span>
      {hasScale && (
        <Gauge
          name={`${who}: ${check.title}`}
          value={value}
          lower={check.lower}
          upper={check.upper}
          nominal={check.nominal}
          doubt={doubt}
          unit={check.unit ?? ''}
          shown={shown}
          verdict={verdict}
        />
      )}
    </div>
  )
}
