import Link from 'next/link'
import { showClock, showDay } from '../../../../server/programme/civil-time.rules'
import type { ProgrammeItem } from '../../../../server/programme/programme.contract'
import { Chip } from '../../../_ui/chip'

/** The day in words and times of the stream's zone. The first cell leads to where it is moved. */
export function ItemTable({ items, zone }: { items: readonly ProgrammeItem[]; zone: string }) {
  return (
    <table className="cards">
      <caption>In order, by the clock of {zone.split('/').at(-1)?.replaceAll('_', ' ')}</caption>
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Day</th>
          <th scope="col" className="num">
            From
          </th>
          <th scope="col" className="num">
            To
          </th>
          <th scope="col">Stands</th>
        </tr>
      </thead>
      <tbody>
        {items.map((item) => (
          <tr key={item.id}>
            <th scope="row">
              <Link prefetch={false} href={`/bench/programme/${item.id}`}>
                {item.kind === 'guest' ? `Guest: ${item.title}` : item.title}
              </Link>
            </th>
            <td data-label="Day">{showDay(item.startsAt, zone)}</td>
            <td data-label="From" className="num">
              {showClock(item.startsAt, zone)}
            </td>
            <td data-label="To" className="num">
              {item.kind === 'closing' ? (item.runsTo === item.startsAt ? '' : showClock(item.runsTo, zone)) : showClock(item.endsAt, zone)}
            </td>
            <td data-label="Stands">
              <Standing item={item} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Standing({ item }: { item: ProgrammeItem }) {
  if (item.isHeld) return <Chip tone="doubt">Held</Chip>
  if (item.isOver) return <>over</>
  if (item.runsTo !== item.endsAt) return <Chip tone="copper">Extended</Chip>
  return item.isAnnounced ? <>announced</> : <Chip tone="doubt">Not announced</Chip>
}
