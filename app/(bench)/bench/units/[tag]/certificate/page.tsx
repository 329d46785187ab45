import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '../../../../../_trpc/server'
import { Crumbs } from '../../../../../_ui/crumbs'
import { Tag } from '../../../../../_ui/tag'
import { foundOr } from '../../../../../(public)/_found'
import { CertificatePanel } from '../../../_certificate/certificate-panel'
import { HomeReports } from '../../../_certificate/home-reports'
import { WithdrawForm } from '../../../_certificate/withdraw-form'
import { StaffOnly } from '../../../_shell/staff-only'

export const metadata: Metadata = { title: 'Certificate' }

export default async function UnitCertificatePage({ params }: { params: Promise<{ tag: string }> }) {
  const tag = decodeURIComponent((await params).tag)
  const caller = await api()
  const { person } = await caller.campaign.shell()
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
