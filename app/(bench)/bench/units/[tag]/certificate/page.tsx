import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { foundOr } from '#app/(public)/_found.ts'
import { CertificatePanel } from './certificate-panel'
import { HomeReports } from './home-reports'
import { WithdrawForm } from './withdraw-form'

export const metadata: Metadata = { title: 'Certificate' }

export default async function UnitCertificatePage({ params }: { params: Promise<{ tag: string }> }) {
  const tag = decodeURIComponent((await params).tag)
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const readiness = await foundOr(() => caller.certificates.readiness({ tag }))
  if (!readiness) notFound()
  const isMaker = person.role === 'maker'
  return (
    <div className="page narrow stack">
      <Crumbs
        trail={[
          { label: 'Rack', href: '/bench' },
          { label: readiness.tag, href: `/bench/units/${readiness.tag}` },
        ]}
      />
      <Tag code={readiness.tag}>
        <h1>Its certificate</h1>
      </Tag>
      <CertificatePanel {...readiness} mayIssue={isMaker} />
      <HomeReports tag={readiness.tag} {...(await caller.certificates.homeReports({ tag }))} />
      {isMaker && readiness.standing && <WithdrawForm serial={readiness.standing.serial} tag={readiness.tag} />}
    </div>
  )
}
