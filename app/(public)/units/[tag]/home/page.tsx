import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { foundOr } from '#app/(public)/_found.ts'
import { HOME_CAUTION } from '#bench/certificates/sentences.rules'
import { HomeBench } from './home-bench'

interface Props {
  params: Promise<{ tag: string }>
  searchParams: Promise<{ box?: string | string[] }>
}

export const metadata: Metadata = { title: 'Measured at home' }

/** Where the code in the box leads: five key checks that a buyer repeats with a common meter, held against the bench's. */
export default async function HomePage({ params, searchParams }: Props) {
  const tag = decodeURIComponent((await params).tag)
  const caller = await api()
  const view = await foundOr(() => caller.certificates.home({ tag }))
  if (!view) notFound()
  const { lot } = await caller.record.ofUnit({ tag })
  const { box } = await searchParams
  return (
    <article className="page stack">
      <Crumbs trail={[{ label: view.tag, href: `/units/${view.tag}` }]} />
      <h1>{view.tag} at home</h1>
      {view.checks.length === 0 ? (
        <p>There is no reading of {view.tag} yet that could be repeated at home. Its page says how far it has come.</p>
      ) : (
        <>
          <p>
            Repeat {view.checks.length === 1 ? 'this check' : `these ${view.checks.length} checks`} and see whether your {view.design} is as
            it left the bench. A cheap meter is less accurate than the bench’s; the comparison takes that into account.
          </p>
          <Notice tone="doubt" title="Before you measure">
            {view.cautions.map((caution) => (
              <p key={caution}>{caution}</p>
            ))}
            <p>{HOME_CAUTION}</p>
          </Notice>
          <HomeBench view={view} lot={lot?.number ?? null} box={typeof box === 'string' ? box : ''} />
        </>
      )}
    </article>
  )
}
