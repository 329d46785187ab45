'use client'

import type { AnswerTo } from './answers.rules'
import styles from './record.module.css'

/** The five questions of somebody who does not know the maker, answered before anything else. */
export function Answers({ answers }: { answers: readonly AnswerTo[] }) {
  return (
    <dl className={styles.answers}>
      {answers.map(({ question, words, more }) => (
        <div key={question}>
          <dt>{question}</dt>
          <dd>
            {more ? `${words} ` : words}
            {more && <a href={more.href}>{more.label}</a>}
          </dd>
        </div>
      ))}
    </dl>
  )
}
