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
  params: Promise<{ number: string }>
}

const creditsOf = cache(async (number: string) =>
  /^\d{1,6}$/.test(number) ? foundOr(async () => (await api()).credits.forLot({ number: Number(number) })) : null,
)

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const credits = await creditsOf((await params).number)
  return { title: credits ? `Credits of lot ${credits.number}` : 'No such lot' }
}

export default async function LotCreditsPage({ params }: Props) {
  const credits = await creditsOf((await params).number)
  if (!credits) notFound()
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: 'Credits', href: '/credits' }]} />
      <h1>
        Lot {credits.number}, {credits.title}
      </h1>
      <p>Everyone whose gift is in this machine, goes with it, or helped to make it, by name, all given the same weight.</p>
      <LiveLine initial={credits} nobody="Nobody is named here for it." />
      <p>
        <Link href={`/lots/${credits.number}`}>The lot</Link> · <Link href={`/units/${credits.unit}`}>the record of {credits.unit}</Link>
      </p>
      <TextToCopy text={credits.text} address={`/credits/lots/${credits.number}`} />
    </div>
  )
}
