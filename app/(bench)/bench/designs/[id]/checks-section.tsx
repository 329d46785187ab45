import { limitWords } from '#bench/designs/check-words.rules'
import type { WholeDesign } from '#bench/designs/designs.service'

/** The checklist as it stands, in order. */
export function ChecksSection({ checks }: Pick<WholeDesign, 'checks'>) {
  return (
    <section className="sheet">
      <table className="cards">
        <caption>Checklist</caption>
        <thead>
          <tr>
            <th scope="col">Check</th>
            <th scope="col">Stage</th>
            <th scope="col">What</th>
            <th scope="col">Limits</th>
            <th scope="col">After</th>
          </tr>
        </thead>
        <tbody>
          {checks.map((check) => (
            <tr key={check.key}>
              <th scope="row" className="code">
                {check.key}
              </th>
              <td data-label="Stage">
                {check.stage}
                {check.stageKind !== 'other' && check.stageKind !== check.stage && <span className="under">{check.stageKind}</span>}
              </td>
              <td data-label="What">
                {check.title}
                {check.isHold && <b> (hold point{check.fourEyes ? ', four eyes' : ''})</b>}
                {check.gatesPower && <span className="under">power waits for it</span>}
              </td>
              <td data-label="Limits">{limitWords(check)}</td>
              <td data-label="After">{check.after.join(', ') || '·'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
