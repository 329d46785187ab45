import { ToneMark } from '#app/_ui/tone-mark.tsx'
import type { Finding } from '#sale/history/check-history.rules'

/** What a check found, each with its mark. */
export function Findings({ findings }: { findings: readonly Finding[] }) {
  return (
    <ul className="plain-list stack close">
      {findings.map(({ isSound, words }) => (
        <li key={words} className="row" style={{ flexWrap: 'nowrap', alignItems: 'baseline' }}>
          <ToneMark tone={isSound ? 'ok' : 'bad'} size={14} />
          <span>
            <span className="visually-hidden">{isSound ? 'Holds: ' : 'Does not hold: '}</span>
            {words}
          </span>
        </li>
      ))}
    </ul>
  )
}
