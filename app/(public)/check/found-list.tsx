'use client'

import { useState } from 'react'
import { classes } from '#app/_ui/classes.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PricePathTold } from '#app/_ui/price-path.tsx'
import { ToneMark } from '#app/_ui/tone-mark.tsx'
import styles from './check.module.css'
import type { Finding } from './finding'
import { compareWithLive } from './live-history'

const MARKS = { ok: 'ok', bad: 'bad', doubt: 'doubt', info: 'copper' } as const

/** What was found: first a sentence for each file that says whose it is and whether it is whole, then each thing that was looked at. */
export function FoundList({ findings }: { findings: readonly Finding[] }) {
  return (
    <>
      {findings
        .filter(({ isVerdict }) => isVerdict)
        .map((finding) => (
          <Verdict key={finding.about} {...finding} />
        ))}
      {findings
        .filter(({ isVerdict }) => !isVerdict)
        .map(({ tone, title, words, about }) => (
          <Notice key={`${about} ${title} ${words}`} tone={tone} title={title}>
            <p>{words}</p>
            <p className="small quiet num">{about}</p>
          </Notice>
        ))}
    </>
  )
}

function Verdict({ tone, title, words, about, link, history }: Finding) {
  const [compared, setCompared] = useState<Finding | 'busy' | null>(null)
  return (
    <section className={classes(styles.verdict, styles[tone])} aria-label={about}>
      <ToneMark tone={MARKS[tone]} size={36} />
      <div className="stack close">
        <p className={styles.sentence}>{title}</p>
        {words && <p>{words}</p>}
        <p className="small quiet">
          <span className="num">{about}</span>
          {link && (
            <>
              {' · '}
              <a href={link.href}>{link.label}</a>
            </>
          )}
        </p>
        {history && <PricePathTold history={history} />}
        {history && (
          <p>
            <button
              type="button"
              className="button-line"
              onClick={() => {
                setCompared('busy')
                void compareWithLive({ name: about, history }).then(setCompared)
              }}
            >
              {compared === 'busy' ? 'Comparing…' : 'Compare with the history that the house shows now'}
            </button>
          </p>
        )}
        {compared !== null && compared !== 'busy' && (
          <Notice tone={compared.tone} title={compared.title}>
            <p>{compared.words}</p>
          </Notice>
        )}
      </div>
    </section>
  )
}
