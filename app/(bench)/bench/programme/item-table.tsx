import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import type { ProgrammeItem } from '#sale/programme/programme.contract'

interface ItemTableProps {
  items: readonly ProgrammeItem[]
  zone: string
  /** Closings whose machines lack parts that come too late. */
  late: ReadonlySet<string>
}

/** The day in words and times of the stream's zone. The first cell leads to where it is moved. */
export function ItemTable({ items, zone, late }: ItemTableProps) {
  return (
    <table className="cards">
      <caption>
        {items[0] && `${showDay(items[0].startsAt, zone)}, `}by the clock of {zonePlace(zone)}
      </caption>
      <thead>
        <tr>
          <th scope="col">What</th>
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
        {items.map((item, index) => (
          <tr key={item.id}>
            <th scope="row">
              <Link prefetch={false} href={`/bench/programme/${item.id}`}>
                {item.kind === 'guest' ? `Guest: ${item.title}` : item.title}
              </Link>
            </th>
            <td data-label="From" className="num">
              {isAnotherDay(items, index, zone) && <span className="small quiet">{showDay(item.startsAt, zone)} </span>}
              {showClock(item.startsAt, zone)}
            </td>
            <td data-label="To" className="num">
              {item.kind === 'closing' ? (item.runsTo === item.startsAt ? '' : showClock(item.runsTo, zone)) : showClock(item.endsAt, zone)}
            </td>
            <td data-label="Stands">
              <Standing item={item} /> {late.has(item.id) && <Chip tone="doubt">Parts too late</Chip>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The first day stands in the caption, a further one where it begins. */
const isAnotherDay = (items: readonly ProgrammeItem[], index: number, zone: string): boolean => {
  const [before, here] = [items[index - 1], items[index]]
  return before !== undefined && here !== undefined && showDay(before.startsAt, zone) !== showDay(here.startsAt, zone)
}

function Standing({ item }: { item: ProgrammeItem }) {
  if (item.isHeld) return <Chip tone="doubt">Held</Chip>
  if (item.isOver) return <>over</>
  if (item.runsTo !== item.endsAt) return <Chip tone="copper">Extended</Chip>
  if (item.keepsTime) return <>{item.isAnnounced ? 'announced' : 'not announced'}, keeps its time</>
  return item.isAnnounced ? <>announced</> : <Chip tone="doubt">Not announced</Chip>
}
