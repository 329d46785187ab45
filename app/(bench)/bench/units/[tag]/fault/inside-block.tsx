'use client'

import Link from 'next/link'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { lookedPins } from '#app/_ui/board-photo.rules.ts'
import { BoardPhoto } from '#app/_ui/board-photo.tsx'
import { BoardPicture } from '#app/_ui/board-picture.tsx'
import { Chip } from '#app/_ui/chip.tsx'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { SearchView } from '#bench/faults/fault.contract'
import styles from './fault.module.css'

/** The most suspected block from within: its parts with what is known of each, where to probe, and what was seen there. */
export function InsideBlock({ search, works, zone }: { search: SearchView; works: boolean; zone: string }) {
  const { inside, observations, board, photographs } = search
  const [place, setPlace] = useState('')
  const looked = {
    suspects: inside.pieces.map(({ designator }) => designator),
    points: inside.points.map(({ point }) => point),
    next: inside.nextPoint,
  }
  // One on which nothing of the block is pinned has nothing to say here.
  const telling = photographs.filter(({ pins }) => lookedPins(pins, looked).some(({ tone }) => tone !== 'part'))
  return (
    <section className="sheet stack" aria-labelledby="inside">
      <h2 id="inside">Inside {inside.block}</h2>
      {inside.pieces.length === 0 ? (
        <p>Nothing is fitted there: its wires, the board under it, its settings.</p>
      ) : (
        <ol className={styles.inside}>
          {inside.pieces.map(({ designator, part, why, batch, history }) => (
            <li key={designator}>
              <span className="code">{designator}</span> {part}, from <span className="code">{batch}</span>
              <span className="under">{[why, ...history].join('; ')}</span>
            </li>
          ))}
        </ol>
      )}
      {board.length > 0 && <BoardPicture placed={board} {...looked} />}
      {telling.map((photograph) => (
        <BoardPhoto key={photograph.sha} photograph={photograph} {...looked} />
      ))}
      {works && (
        <p className="small">
          <Link href={`/bench/designs/${search.design.id}/board`}>
            {telling.length > 0 ? 'Pin more on photographs of the board' : 'Pin its parts and test points on a photograph of the board'}
          </Link>
        </p>
      )}
      {inside.points.length > 0 && (
        <div>
          <h3>Where to probe</h3>
          <ul className={styles.reasons}>
            {inside.points.map(({ point, expects }) => (
              <li key={point}>
                {works ? <TextButton press={() => setPlace(point)}>{point}</TextButton> : <span className="code several">{point}</span>}:
                expect <span className="num">{expects}</span>
                {point === inside.nextPoint && ' '}
                {point === inside.nextPoint && <Chip tone="copper">Probe next</Chip>}
              </li>
            ))}
          </ul>
        </div>
      )}
      {works && <ObserveForm key={place} search={search} place={place} />}
      {observations.length > 0 && (
        <div>
          <h3>What was seen at points</h3>
          <ul className={styles.reasons}>
            {observations.map(({ id, at, by, place: where, block, found, isGood, counts }) => (
              <li key={id}>
                <span className="code several">{where}</span> {found} <Chip tone={isGood ? 'ok' : 'bad'}>{isGood ? 'Good' : 'Bad'}</Chip>{' '}
                <span className="small quiet">
                  {block}, <When at={at} zone={zone} />, {by}
                  {!counts && '; no longer counts: something was changed since'}
                </span>
              </li>
            ))}
          </ul>
        </div>
      )}
      {works && <PointForm search={search} />}
    </section>
  )
}

const blockOptions = ({ suspects }: SearchView) => [
  { value: '', label: 'The block of the position' },
  ...suspects.map(({ block }) => ({ value: block, label: block })),
]

/** Anything that was seen anywhere: it moves the suspicion as a check does. */
function ObserveForm({ search, place }: { search: SearchView; place: string }) {
  const { tag } = search
  const { key, renew } = useFormKey()
  const observe = useCommand(api.faults.observe.mutate)
  return (
    <CommandForm
      // What was typed for one place is kept for that place: a tap on a test point begins another.
      label={place === '' ? 'Something seen' : `Something seen at ${place}`}
      pending={observe.pending}
      refusal={observe.refusal}
      emptyWhenDone
      run={(form) =>
        observe.run({
          key,
          tag,
          place: form.text('place'),
          block: form.text('block'),
          found: form.text('found'),
          isGood: form.text('isGood') === 'good',
          isPowered: form.ticked('isPowered'),
        })
      }
      onDone={renew}
    >
      <h3>Something seen at a point</h3>
      <TextField name="place" label="Where" hint="Such as U2 pin 1." width="short" mono defaultValue={place} />
      <TextField name="found" label="What is to be seen there" hint="Such as 1.0 V, or a sine of 200 mVpp." />
      <SelectField name="block" label="Block" defaultValue={place === '' ? '' : search.inside.block} options={blockOptions(search)} />
      <RadioGroup
        name="isGood"
        label="Is that as it should be?"
        defaultValue="good"
        choices={[
          { value: 'good', label: 'Good' },
          { value: 'bad', label: 'Bad' },
        ]}
      />
      <CheckField name="isPowered" label="With power on" hint="Then it speaks of what feeds the block as well." defaultChecked />
      <SubmitButton>Weigh it</SubmitButton>
    </CommandForm>
  )
}

/** What is to be seen at a point, for every unit of the design from now on. */
function PointForm({ search }: { search: SearchView }) {
  const set = useCommand(api.faults.setPoint.mutate)
  return (
    <details>
      <summary>Write down a test point</summary>
      <CommandForm
        label="Test point"
        pending={set.pending}
        refusal={set.refusal}
        emptyWhenDone
        run={(form) => set.run({ tag: search.tag, point: form.text('point'), block: form.text('block'), expects: form.text('expects') })}
      >
        <TextField name="point" label="Point" hint="Such as U2 pin 8 or TP3." width="short" mono />
        <TextField name="expects" label="What to expect there" hint="A voltage, a waveform, a resistance to ground." />
        <SelectField name="block" label="Block" defaultValue={search.inside.block} options={blockOptions(search)} />
        <SubmitButton kind="line">Keep it for {search.design.name}</SubmitButton>
      </CommandForm>
    </details>
  )
}
