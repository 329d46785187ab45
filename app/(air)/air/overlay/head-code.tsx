import { encodeQR } from 'qr'
import { headAddress } from '#sale/history/head-address.rules'
import { shortHead } from '#sale/history/short-head.rules'
import styles from './head-code.module.css'

const QUIET = 4

/** The whole head as a code: the address of the history that must have led to it, with the head itself behind the #. */
export function HeadCode({ lot, size, root, publicUrl }: { lot: number; size: number; root: string; publicUrl: string }) {
  const rows = encodeQR(headAddress(publicUrl, { lot, size, root }), 'raw', { ecc: 'medium', border: QUIET })
  const path = rows.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ''))).join('')
  return (
    <svg
      className={styles.code2d}
      viewBox={`0 0 ${rows.length} ${rows.length}`}
      shapeRendering="crispEdges"
      role="img"
      aria-label={`Head of the history of lot ${lot}, as a code`}
    >
      <rect width={rows.length} height={rows.length} fill="#fff" />
      <path d={path} fill="#000" />
    </svg>
  )
}

/** The head as people read it out. */
export const HeadDigits = ({ root }: { root: string }) => <b className={styles.digits}>{shortHead(root)}</b>
