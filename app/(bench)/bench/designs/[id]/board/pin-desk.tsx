'use client'

import { useRouter } from 'next/navigation'
import { type KeyboardEvent, type MouseEvent, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { type Pin, placeIn, sayPlace } from '#app/_ui/board-photo.rules.ts'
import { BoardPhoto } from '#app/_ui/board-photo.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { BoardPhotograph } from '#bench/faults/fault.contract'
import styles from './pin-desk.module.css'

interface PinDeskProps {
  designId: string
  photograph: BoardPhotograph
  marks: readonly string[]
}

const STEPS: Record<string, [x: number, y: number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/** Choose a mark, then press where it is; on the keyboard the arrows move a cross, and Enter pins there. The next mark is at hand at once. */
export function PinDesk({ designId, photograph, marks }: PinDeskProps) {
  const router = useRouter()
  const { sha, words, pins } = photograph
  const open = marks.filter((mark) => !pins.some((pin) => pin.mark === mark))
  const [chosen, setChosen] = useState<string | null>(null)
  const [cross, setCross] = useState({ x: 500, y: 500 })
  const [said, setSaid] = useState('')
  const pinning = useCommand(api.faults.pin.mutate)
  const unpinning = useCommand(api.faults.unpin.mutate)
  const removing = useCommand(api.faults.removeBoard.mutate)
  const at = chosen ?? open[0] ?? marks[0] ?? ''
  const pin = async (place: Pick<Pin, 'x' | 'y'>) => {
    if (at === '' || pinning.pending) return
    const done = await pinning.run({ designId, photograph: sha, mark: at, ...place })
    if (done === undefined && pinning.refusal) return
    setSaid(`${at} is pinned ${sayPlace(place)}.`)
    setCross(place)
    setChosen(open.filter((mark) => mark !== at)[0] ?? null)
    router.refresh()
  }
  const press = (event: MouseEvent<HTMLButtonElement>) =>
    // A press by the keyboard has no place: it is where the cross stands.
    void pin(event.detail === 0 ? cross : placeIn(event, event.currentTarget.getBoundingClientRect()))
  const move = (event: KeyboardEvent) => {
    const step = STEPS[event.key]
    if (!step) return
    event.preventDefault()
    const far = event.shiftKey ? 50 : 10
    const next = { x: within(cross.x + step[0] * far), y: within(cross.y + step[1] * far) }
    setCross(next)
    setSaid(`${next.x / 10} % from the left, ${next.y / 10} % from above`)
  }
  const remove = async (mark: string) => {
    await unpinning.run({ designId, photograph: sha, mark })
    setChosen(mark)
    setSaid(`${mark} is no longer pinned.`)
    router.refresh()
  }
  const refusal = pinning.refusal ?? unpinning.refusal
  return (
    <section className="sheet stack" aria-label={words || 'A photograph of the board'}>
      <div className={styles.mark}>
        <SelectField
          name={`mark-${sha.slice(0, 8)}`}
          label="What do you pin?"
          hint="Then press where it is on the photograph. On the keyboard: arrows, and Enter."
          value={at}
          onChange={(event) => setChosen(event.currentTarget.value)}
          options={marks.map((mark) => ({ value: mark, label: pins.some((one) => one.mark === mark) ? `${mark}, pinned` : mark }))}
        />
      </div>
      <p role="status" className="small">
        {refusal ? refusal.words : said}
      </p>
      <BoardPhoto photograph={photograph} points={[at]}>
        <button type="button" className={styles.surface} aria-label={`Pin ${at} here`} onClick={press} onKeyDown={move}>
          <span className={styles.cross} style={{ left: `${cross.x / 10}%`, top: `${cross.y / 10}%` }} />
        </button>
      </BoardPhoto>
      {pins.length > 0 && (
        <details>
          <summary>{pins.length === 1 ? 'One pin' : `${pins.length} pins`}</summary>
          <ul className="plain-list">
            {pins.map((one) => (
              <li key={one.mark} className="row apart">
                <span>
                  <span className="code">{one.mark}</span> <span className="small quiet">{sayPlace(one)}</span>
                </span>
                <TextButton press={() => void remove(one.mark)}>Remove the pin of {one.mark}</TextButton>
              </li>
            ))}
          </ul>
        </details>
      )}
      <ConfirmButton
        title="Remove this photograph of the board?"
        undoes={pins.length > 0 ? `Its ${pins.length === 1 ? 'pin goes' : `${pins.length} pins go`} with it.` : 'Nothing is pinned on it.'}
        confirm="Remove it"
        pending={removing.pending}
        refusal={removing.refusal}
        run={() => removing.run({ designId, photograph: sha })}
        onDone={() => router.refresh()}
      >
        Remove the photograph…
      </ConfirmButton>
    </section>
  )
}

const within = (at: number) => Math.min(1000, Math.max(0, at))
