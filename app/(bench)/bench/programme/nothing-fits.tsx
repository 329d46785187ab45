import { Notice } from '#app/_ui/notice.tsx'
import type { PlanningView } from '#sale/planning/wish.contract'
import { DropWish } from './drop-wish'

/** Why no plan keeps everything, and which wishes would have to give way. */
export function NothingFits({ planning, look }: { planning: PlanningView; look(): void }) {
  if (planning.room) {
    const { neededMinutes, thereMinutes } = planning.room
    return (
      <Notice tone="bad" title="The closings alone do not fit">
        <p>
          They keep {neededMinutes} minutes to themselves, and the stream has {thereMinutes} free, some of them cut short by breaks and by
          what is announced. Take fewer minutes for each, make the stream longer, or leave a lot for another day.
        </p>
      </Notice>
    )
  }
  return (
    <Notice tone="bad" title="These cannot all be kept">
      <p>Give up any one of them, and the day can be planned:</p>
      <ul className="stack">
        {planning.together.map(({ wishId, words }) => (
          <li key={wishId} className="row apart">
            {words}
            {planning.wishes.some(({ id }) => id === wishId) ? (
              <DropWish wishId={wishId} words={words} look={look} />
            ) : (
              <span className="quiet">untick it above</span>
            )}
          </li>
        ))}
      </ul>
      {planning.ways.length > 0 && (
        <>
          <p>Or keep them all, and let one of these give way:</p>
          <ul>
            {planning.ways.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </>
      )}
    </Notice>
  )
}
