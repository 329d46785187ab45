import lot from '../lot.module.css'
import styles from './history.module.css'

export default function History() {
  return [lot.entry, styles.entry].join()
}
