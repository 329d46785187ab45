'use client'

import { useCallback, useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EvidencePiece } from '#app/_ui/evidence-piece.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { EvidenceView } from '#bench/units/evidence.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { AddEvidence } from './add-evidence'

export interface EvidenceSheetProps {
  view: BringupView
  person: { isMaker: boolean; works: boolean }
  zone: string
}

/** What is kept beside the readings: it comes with them or later, and each piece is shown to everybody only once that is chosen. */
export function EvidenceSheet({ view, person, zone }: EvidenceSheetProps) {
  const [pieces, setPieces] = useState<EvidenceView[] | null>(null)
  const marks = JSON.stringify(view.evidence)
  const { tag } = view
  const load = useCallback(() => {
    api.bringup.evidence.query({ tag }).then(setPieces, () => {})
  }, [tag])
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked for anew when a piece came, went or was chosen.
  useEffect(load, [load, marks])
  return (
    <section className="sheet stack" aria-labelledby="evidence">
      <h2 id="evidence">Evidence</h2>
      {view.evidence.length === 0 && (
        <p className="quiet">Nothing is kept beside the readings yet: a picture, the table of a sweep, an image of firmware, a sound.</p>
      )}
      {pieces?.map((piece) => (
        <EvidencePiece key={piece.id} piece={piece}>
          <Choosing piece={piece} person={person} zone={zone} again={load} />
        </EvidencePiece>
      ))}
      {person.works && <AddEvidence view={view} again={load} />}
    </section>
  )
}

function Choosing({
  piece,
  person,
  zone,
  again,
}: {
  piece: EvidenceView
  person: EvidenceSheetProps['person']
  zone: string
  again(): void
}) {
  const show = useCommand(api.bringup.showEvidence.mutate)
  const away = useCommand(api.bringup.takeEvidenceAway.mutate)
  const { id, isShown, by, at, isOfEarlier } = piece
  const toggle = async () => {
    if (await show.run({ id, isShown: !isShown })) again()
  }
  return (
    <>
      <p className="small quiet">
        {by}, <When at={at} zone={zone} />
        {isOfEarlier && ', beside a reading that no longer counts'}
      </p>
      <div className="row">
        <Chip tone={isShown ? 'ok' : 'plain'}>{isShown ? 'Shown to everybody' : 'Only at the bench'}</Chip>
        {person.isMaker && (
          <TextButton
            press={toggle}
            label={isShown ? 'Show it at the bench only' : 'Show it to everybody, on the record and the certificate'}
          >
            {isShown ? 'Show it at the bench only' : 'Show it to everybody'}
          </TextButton>
        )}
        {person.works && (
          <ConfirmButton
            title="Take this piece away?"
            undoes={
              isShown
                ? 'It is shown no more, neither here nor on the record. A certificate that names it goes on naming it: issue it again.'
                : 'It is shown no more. The reading stays as it is.'
            }
            confirm="Take it away"
            pending={away.pending}
            refusal={away.refusal}
            run={() => away.run({ id })}
            onDone={again}
          >
            Take it away…
          </ConfirmButton>
        )}
      </div>
      {show.refusal && <p role="alert">{show.refusal.words}</p>}
    </>
  )
}
