import styles from './skip-link.module.css'

/** First in the page for those who come by keyboard: past the header to what it is about. */
export function SkipLink() {
  return (
    <a href="#main" className={styles.skip}>
      Skip to the page
    </a>
  )
}
