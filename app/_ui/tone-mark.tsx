import type { Tone } from './tone'

const PATHS: Record<Tone, string> = {
  plain: 'M3 8H13',
  copper: 'M4 3L12 8L4 13Z',
  ok: 'M2.5 8.5L6.5 12.5L13.5 4',
  doubt: 'M8 2L14 8L8 14L2 8Z',
  bad: 'M3.5 3.5L12.5 12.5M12.5 3.5L3.5 12.5',
}

/** The shape that goes with a tone: tick, diamond, cross, arrowhead, bar. Drawn in the colour of the text. */
export function ToneMark({ tone, size = 12 }: { tone: Tone; size?: number }) {
  return (
    <svg viewBox="0 0 16 16" width={size} height={size} aria-hidden="true" className={tone === 'copper' ? 'mark full' : 'mark'}>
      <path d={PATHS[tone]} />
    </svg>
  )
}
