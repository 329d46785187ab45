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
  const solid = tone === 'copper'
  return (
    <svg viewBox="0 0 16 16" width={size} height={size} aria-hidden="true" focusable="false" style={{ flex: 'none' }}>
      <path
        d={PATHS[tone]}
        fill={solid ? 'currentColor' : 'none'}
        stroke="currentColor"
        strokeWidth="2.4"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  )
}
