import { sayMinutes } from '#bench/spent/minutes.rules'
import type { MachineSpent } from '#bench/spent/spent.contract'
import styles from './days.module.css'
import { daysOf } from './days.rules'

const two = (hour: number) => `${String(hour % 24).padStart(2, '0')}:00`

/** Each day that was worked on it, drawn on a line of the same hours; what it says stands beside it. */
export function DaysPicture({ stretches, people, zone }: Pick<MachineSpent, 'stretches' | 'people' | 'zone'>) {
  const { fromHour, toHour, rows } = daysOf(stretches, zone)
  const shade = new Map(people.map(({ name }, index) => [name, index % 3]))
  const every = Math.max(1, Math.ceil((toHour - fromHour) / 4))
  const marks = Array.from({ length: Math.floor((toHour - fromHour) / every) + 1 }, (_, index) => fromHour + index * every)
  return (
    <div className={styles.picture}>
      {people.length > 1 && (
        <p className={styles.key}>
          {people.map(({ name, minutes }, index) => (
            <span key={name}>
              <i data-shade={index % 3} aria-hidden="true" /> {name}, {sayMinutes(minutes)}
            </span>
          ))}
        </p>
      )}
      <table className={styles.days}>
        <caption className="visually-hidden">Work on it, day by day</caption>
        <thead>
          <tr>
            <th scope="col" className="visually-hidden">
              Day
            </th>
            <th scope="col">
              <span className="visually-hidden">When</span>
              <div className={styles.scale} aria-hidden="true">
                {marks.map((hour) => (
                  <span key={hour} style={{ left: `${(100 * (hour - fromHour)) / (toHour - fromHour)}%` }}>
                    {two(hour)}
                  </span>
                ))}
              </div>
            </th>
            <th scope="col" className="visually-hidden">
              Hours
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ day, words, minutes, bars }) => (
            <tr key={day}>
              <th scope="row">{words}</th>
              <td>
                <div className={styles.line}>
                  {bars.map(({ by, left, width }) => (
                    <span
                      key={`${left} ${by}`}
                      data-shade={shade.get(by)}
                      aria-hidden="true"
                      style={{ left: `${left.toFixed(2)}%`, width: `${width.toFixed(2)}%` }}
                    />
                  ))}
                </div>
              </td>
              <td className="num">{sayMinutes(minutes)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
