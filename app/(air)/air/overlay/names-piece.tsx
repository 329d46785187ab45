import { useEffect, useState, useSyncExternalStore } from 'react'
import type { RollingCredits } from '#air/screens/overlay.contract'
import { api } from '#app/_trpc/client.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import { classes } from '#app/_ui/classes.ts'
import type { CreditMarks } from '#gifts/credits/credits.contract'
import styles from './names-piece.module.css'
import plate from './plate.module.css'
import type { OverlayAir } from './use-overlay'

/** Long enough for each name to be read as it goes by. */
const SECONDS_A_NAME = 1.4
const LEAST_SECONDS = 16
/** As many as stand there without moving. */
const AT_ONCE = 4
/** Heights as per cent of the picture, as in the sheet of styles: a line of the list, and the pane through which it goes. */
const LINE = 6.16
const PANE = 26
const PAGE_MS = 6_000

/** Who agreed to be named on stream for this lot. */
export function LotNames({ lot, air }: { lot: number; air: OverlayAir }) {
  const shown = useNamed(`stream lot ${lot}`, air, () => api.air.overlayNames.mutate({ key: air.overlayKey, lot }))
  return shown && <Names title="With gifts from" shown={shown} />
}

/** Everyone who gave and agreed to be named on stream. */
export function CampaignNames({ air }: { air: OverlayAir }) {
  const shown = useNamed('stream all', air, () => api.air.overlayCredits.mutate({ key: air.overlayKey }))
  return shown && <Names title={`${shown.campaign} thanks`} shown={shown} />
}

/**
 * The names that may stand in the picture at this moment. They are asked for under the mark that the house gives them:
 * who takes a consent back changes the mark, and with the next frame, which comes at once, nothing of the old list stays.
 */
function useNamed(markOf: string, { isOld }: OverlayAir, ask: () => Promise<RollingCredits>): RollingCredits | null {
  const [shown, setShown] = useState<{ at: string; rolling: RollingCredits } | null>(null)
  const { marks } = useLive<Partial<CreditMarks>>('credits', {})
  const at = `${markOf} ${marks?.[markOf] ?? ''}`
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is asked follows from the mark
  useEffect(() => {
    let isCurrent = true
    ask()
      .then((rolling) => isCurrent && setShown({ at, rolling }))
      // When it cannot be known who agrees, nobody is named.
      .catch(() => isCurrent && setShown(null))
    return () => {
      isCurrent = false
    }
  }, [at])
  // Nor when nothing was heard for a while: a consent may have been taken back.
  return shown && shown.at === at && !isOld ? shown.rolling : null
}

function Names({ title, shown: { names, friends } }: { title: string; shown: RollingCredits }) {
  const isStill = useStill()
  const lines = [...names, ...(friends > 0 ? [friends === 1 ? 'and a friend' : `and ${friends} friends`] : [])]
  const page = usePage(isStill ? Math.ceil(lines.length / AT_ONCE) : 1)
  if (lines.length === 0) return null
  const rolls = lines.length > AT_ONCE && !isStill
  const seen = rolls ? lines : lines.slice(page * AT_ONCE, (page + 1) * AT_ONCE)
  return (
    <div className={classes(plate.plate, styles.names)}>
      <p className={classes(plate.quiet, styles.head)}>{title}</p>
      <div className={rolls ? styles.pane : undefined}>
        <ul className={classes(styles.list, rolls && styles.roll)} style={rolls ? rolling(lines.length) : undefined}>
          {seen.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </div>
    </div>
  )
}

/** It begins where the first name stands at the top, so that no picture begins with an empty pane. */
function rolling(lines: number): { animationDuration: string; animationDelay: string } {
  const seconds = Math.max(LEAST_SECONDS, lines * SECONDS_A_NAME)
  return { animationDuration: `${seconds}s`, animationDelay: `${(-seconds * PANE) / (PANE + lines * LINE)}s` }
}

/** Without motion the names turn over a page at a time. */
function usePage(pages: number): number {
  const [page, setPage] = useState(0)
  useEffect(() => {
    if (pages < 2) return
    const timer = setInterval(() => setPage((was) => was + 1), PAGE_MS)
    return () => clearInterval(timer)
  }, [pages])
  return page % Math.max(1, pages)
}

const STILL = '(prefers-reduced-motion: reduce)'
const useStill = (): boolean =>
  useSyncExternalStore(
    (changed) => {
      const query = matchMedia(STILL)
      query.addEventListener('change', changed)
      return () => query.removeEventListener('change', changed)
    },
    () => matchMedia(STILL).matches,
    () => false,
  )
