import type { MergePreview } from '#gifts/parcels/merge.service'

const counted = (count: number, what: string): string => (count === 1 ? `One ${what}` : `${count === 0 ? 'No' : count} ${what}s`)

/** What making one record of two does, in full. */
export function MergeWords({ preview }: { preview: MergePreview }) {
  const { keptName, goneName, gifts, parcels, changes, meets } = preview
  return (
    <ul>
      <li>
        {counted(gifts, 'gift')} and {counted(parcels, 'parcel').toLowerCase()} of {goneName} will be {keptName}’s, with their history.
      </li>
      {meets.map(({ giftId, what, quantity, stillPromised }) => (
        <li key={giftId}>
          {quantity} × {what} meet what {keptName} promised{stillPromised > 0 && `; ${stillPromised} stay promised`}.
        </li>
      ))}
      {changes.map((words) => (
        <li key={words}>{words}</li>
      ))}
      {changes.length === 0 && <li>Whether and how they may be named stays as it is.</li>}
    </ul>
  )
}
