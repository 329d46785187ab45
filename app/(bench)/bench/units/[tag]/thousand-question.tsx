import styles from './reading.module.css'

/** "8020 V or 8020 mV?": a figure a thousand times off its nominal is asked about before it is judged. */
export function ThousandQuestion({ asked, answer }: { asked: string; answer(which: 'as-written' | 'shifted'): void }) {
  const [asWritten, shifted] = asked.replace('?', '').split(' or ')
  return (
    <fieldset className={styles.question}>
      <legend>{asked}</legend>
      <button type="button" className="button-line" onClick={() => answer('as-written')}>
        {asWritten}
      </button>
      <button type="button" className="button" onClick={() => answer('shifted')}>
        {shifted}
      </button>
    </fieldset>
  )
}
