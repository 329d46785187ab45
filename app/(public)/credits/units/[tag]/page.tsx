import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { cache } from 'react'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { foundOr } from '#app/(public)/_found.ts'
import { LiveLine } from '#app/(public)/credits/live-line.tsx'
import { TextToCopy } from '#app/(public)/credits/text-to-copy.tsx'

interface Props {
  params: Promise<{ tag: string }>
}

const creditsOf = cache(async (tag: string) => foundOr(async () => (await api()).credits.forUnit({ tag: decodeURIComponent(tag) })))

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const credits = await creditsOf((await params).tag)
  return { title: credits ? `Credits of ${credits.unit}` : 'No such machine' }
}

export default async function UnitCreditsPage({ params }: Props) {
  const credits = await creditsOf((await params).tag)
  if (!credits) notFound()
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: 'Credits', href: '/credits' }]} />
      <h1>{credits.unit}</h1>
      <p>Everyone whose gift is in this machine or helped to make it, by name, all given the same weight.</p>
      <LiveLine initial={credits} nobody="Nobody is named here for it." />
      <p>
        <Link href={`/units/${credits.unit}`}>The record of {credits.unit}</Link>
      </p>
      <TextToCopy text={credits.text} address={`/credits/units/${credits.unit}`} />
    </div>
  )
}
