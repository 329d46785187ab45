import { showCreditorReference } from '#money/journal/creditor-reference.rules'
import styles from './creditor-reference.module.css'

/** The reference under which a buyer pays, in groups of four and on one line, to be compared with what a bank shows. */
export const CreditorReference = ({ reference }: { reference: string }) => (
  <span className={styles.reference}>{showCreditorReference(reference)}</span>
)
