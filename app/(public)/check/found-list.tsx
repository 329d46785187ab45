'use client'

import { useState } from 'react'
import { classes } from '#app/_ui/classes.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PricePathTold } from '#app/_ui/price-path.tsx'
import { ToneMark } from '#app/_ui/tone-mark.tsx'
import type { PublicKey } from '#bench/certificates/key-set.rules'
import styles from './check.module.css'
import type { Finding } from './finding'
import { compareReceiptsWithLive, compareWithLive } from './live-history'

/** Whatever the house answers, there is a sentence. */
const UNFINISHED = (about: string): Finding => ({
  tone: 'doubt',
  about,
  title: 'It could not be compared',
  words: 'What the house shows now could not be judged to its end. Save its history and choose both files together.',
})

const MARKS = { ok: 'ok', bad: 'bad', doubt: 'doubt', info: 'copper' } as const

type HouseKeys = () => Promise<readonly PublicKey[]>

/** What was found: first a sentence for each file that says whose it is and whether it is whole, then each thing that was looked at. */
export function FoundList({ findings, houseKeys }: { findings: readonly Finding[]; houseKeys: HouseKeys }) {
  return (
    <>
      {findings
        .filter(({ isVerdict }) => isVerdict)
        .map((finding) => (
          <Verdict key={finding.about} finding={finding} houseKeys={houseKeys} />
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

function Verdict({ finding, houseKeys }: { finding: Finding; houseKeys: HouseKeys }) {
  const { tone, title, words, about, link, history, receipts } = finding
  const [compared, setCompared] = useState<Finding[] | 'busy' | null>(null)
  const compare = async () => {
    setCompared('busy')
    const house = await houseKeys()
    const found = Promise.all([
      history ? compareWithLive({ name: about, history }, house) : [],
      receipts ? compareReceiptsWithLive(about, receipts, house) : [],
    ])
    setCompared(await found.then((both) => both.flat()).catch(() => [UNFINISHED(about)]))
  }
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
        {(history || receipts) && (
          <p>
            <button type="button" className="button-line" onClick={() => void compare()}>
              {compared === 'busy'
                ? 'Comparing…'
                : history
                  ? 'Compare with the history that the house shows now'
                  : 'Compare with the histories that the house shows now'}
            </button>
          </p>
        )}
        {compared !== null &&
          compared !== 'busy' &&
          compared.map(({ tone, title, words }) => (
            <Notice key={`${title} ${words}`} tone={tone} title={title}>
              <p>{words}</p>
            </Notice>
          ))}
      </div>
    </section>
  )
}
