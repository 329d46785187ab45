import styles from './sum-lines.module.css'

export interface SumLine {
  words: string
  amount: string
  isSum?: boolean
}

/** Words with their amounts, one below another. A sum stands below a rule. */
export function SumLines({ lines }: { lines: readonly SumLine[] }) {
  return (
    <dl className={styles.sums}>
      {lines.map(({ words, amount, isSum }) => (
        <Line key={words} {...{ words, amount }} className={isSum ? styles.sum : undefined} />
      ))}
    </dl>
  )
}

function Line({ words, amount, className }: { words: string; amount: string; className: string | undefined }) {
  return (
    <>
      <dt className={className}>{words}</dt>
      <dd className={className}>{amount}</dd>
    </>
  )
}
