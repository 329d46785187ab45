import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { orRefused } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import { RefusedPage } from '#app/(bench)/bench/_refused/refused-page.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { VerdictOfPiece } from '#app/(bench)/bench/parts/[id]/verdict-of-piece.tsx'
import { InspectForm } from './inspect-form'

export const metadata: Metadata = { title: 'Piece' }

/** What a label opens: one piece; the label of a bag leads on to its batch. */
export default async function PiecePage({ params }: { params: Promise<{ tag: string }> }) {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const tag = decodeURIComponent((await params).tag)
  const trail = [{ label: 'Parts', href: '/bench/parts' }]
  if (/^B-?\d/i.test(tag)) {
    const bag = await caller.tags.find({ code: tag }).catch(orRefused)
    if ('refused' in bag) return <RefusedPage words={bag.refused} trail={trail} />
    redirect(bag.href)
  }
  const page = await caller.shelf.piece({ tag }).catch(orRefused)
  if ('refused' in page) return <RefusedPage words={page.refused} trail={trail} />
  const { piece, batch, donorName, inspections, at } = page
  const { part } = batch
  const zone = campaign?.zone ?? 'UTC'
  return (
    <div className="page narrow stack wide">
      <Crumbs trail={[...trail, { label: part.words, href: `/bench/parts/${part.id}#${batch.code}` }]} />
      <h1 className="visually-hidden">Piece {piece.tag}</h1>
      <Tag code={piece.tag} aside={<VerdictOfPiece verdict={piece.verdict} programmed={part.programmed} />}>
        <b>{part.words}</b>
        <span className="small">
          Of <Link href={`/bench/parts/${part.id}#${batch.code}`}>{batch.code}</Link>,{' '}
          {batch.donorId === null ? `bought from ${batch.boughtFrom}` : `given by ${donorName}`}
          {batch.marking !== '' && `, marked ${batch.marking}`}
          {batch.dateCode !== '' && `, date code ${batch.dateCode}`}
        </span>
        {at && (
          <span className="small">
            Fitted in <Link href={`/bench/units/${at.tag}`}>{at.tag}</Link> at <span className="code">{at.designator}</span>
          </span>
        )}
      </Tag>
      {batch.state === 'quarantined' && (
        <Notice tone="bad" title={`${batch.code} is in quarantine`}>
          <p>{batch.reason} Do not fit it, and do not give it away.</p>
        </Notice>
      )}
      {piece.verdict === 'reader uncertain' && (
        <Notice tone="doubt" title="One reader refused it">
          <p>It counts as uncertain until a second reader agrees, or reads it.</p>
        </Notice>
      )}
      <section className="sheet stack" aria-labelledby="said">
        <h2 id="said">Inspections so far</h2>
        {inspections.length === 0 && <p className="quiet">Nobody has inspected it yet.</p>}
        {inspections.map((look) => (
          <div key={look.id} className="stack close">
            <p>
              <b>{look.reader}</b>: {look.verdict}
              {look.symptom !== '' && `; seen: ${look.symptom}`}
              <span className="small quiet">
                {' '}
                <When at={look.at} zone={zone} brief />
              </span>
            </p>
            {look.imageSha256 && (
              <p className="small">
                Image <span className="code">{look.imageSha256.slice(0, 16)}…</span>
                {part.imageSha256 && (look.imageSha256 === part.imageSha256 ? ', the right one' : ', not the one it must hold')}
              </p>
            )}
            {/* biome-ignore lint/performance/noImgElement: a photograph of our own, already in its size */}
            {look.photoSha && <img src={`/files/${look.photoSha}-480.webp`} alt={`${piece.tag} as ${look.reader} saw it`} />}
          </div>
        ))}
      </section>
      <section className="sheet act stack" aria-labelledby="inspect">
        <h2 id="inspect">Inspect it</h2>
        <InspectForm pieceId={piece.id} tag={piece.tag} programmed={part.programmed} />
      </section>
      <p>
        <Link href="/bench/scan">Scan another label</Link>
      </p>
    </div>
  )
}
