import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { cache } from 'react'
import { api, publicUrl } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import type { Reached } from '#app/_ui/strip.rules.ts'
import { Strip } from '#app/_ui/strip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { foundOr } from '#app/(public)/_found.ts'
import { LiveLine } from '#app/(public)/credits/live-line.tsx'
import { Answers } from './answers'
import { fiveAnswers, standingChip } from './answers.rules'
import { AtHome } from './at-home'
import { Bounds } from './bounds'
import { Evidence } from './evidence'
import { machineJson } from './machine-json'
import { Mended } from './mended'
import { Photographs } from './photographs'
import { AllReadings } from './readings'
import styles from './record.module.css'
import { WhatWentIn } from './what-went-in'

interface Props {
  params: Promise<{ tag: string }>
}

const recordOf = cache(async (tag: string) => foundOr(async () => (await api()).record.ofUnit({ tag: decodeURIComponent(tag) })))

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const view = await recordOf((await params).tag)
  if (!view) return { title: 'No such machine' }
  const { record } = view
  const title = `${record.tag}, its record of tests`
  return {
    title,
    description: record.sentence,
    openGraph: {
      title,
      description: record.sentence,
      images: [{ url: `/units/${record.tag}/card.png`, width: 1200, height: 630, alt: `${record.tag}: ${record.sentence}` }],
    },
    twitter: { card: 'summary_large_image' },
  }
}

/** What a bidder reads before trusting a machine: the verdict first, then everything that it rests on. Works without script. */
export default async function UnitPage({ params }: Props) {
  const view = await recordOf((await params).tag)
  if (!view) notFound()
  const { record, standing, lot, reached, zone, history } = view
  const credits = await (await api()).credits.forUnit({ tag: record.tag })
  const chip = standingChip(view)
  return (
    <article className="page stack wide">
      {/* biome-ignore lint/security/noDangerouslySetInnerHtml: schema.org data, escaped where it is made. */}
      <script type="application/ld+json" dangerouslySetInnerHTML={{ __html: machineJson(view, publicUrl()) }} />
      <header className={styles.head}>
        <Tag code={record.tag} aside={<Chip tone={chip.tone}>{chip.words}</Chip>}>
          <h1>
            {record.design.name} <span className={styles.revision}>rev {record.design.revision}</span>
          </h1>
        </Tag>
        <Strip reached={reached as Reached} name={record.tag} />
      </header>

      <section className={`sheet stack ${styles.verdict}`} aria-labelledby="verdict">
        <h2 id="verdict">{record.sentence}</h2>
        <Answers answers={fiveAnswers(view)} />
        {standing ? (
          <ul className={`plain-list ${styles.ways}`}>
            <li>
              <a className="code" href={`/certificates/${standing.serial}`}>
                {standing.serial}
              </a>
            </li>
            <li>
              <a href={`/check?serial=${standing.serial}`}>Check the signature</a>
            </li>
            <li>
              <a href={`/units/${record.tag}/home`}>Is it yours? Measure it at home</a>
            </li>
            {lot && (
              <li>
                <a href={`/lots/${lot.number}`}>Lot {lot.number}</a>
              </li>
            )}
          </ul>
        ) : (
          <NotCertified missing={record.missing.map((gap) => gap.words)} before={history[0]?.serial ?? null} />
        )}
      </section>

      {lot && lot.photographs.length > 0 && <Photographs photographs={lot.photographs} />}
      <AllReadings results={record.results} atHome={record.atHome} zone={zone} />
      <Evidence pieces={view.evidence} />
      <AtHome results={record.results} href={`/units/${record.tag}/home`} />
      <Mended record={record} zone={zone} />
      {view.spent && <WhatWentIn spent={view.spent} />}
      <section className="stack" aria-labelledby="given-by">
        <h2 id="given-by">Given by</h2>
        <LiveLine initial={credits} nobody="Nobody is named here yet." />
        <p className="small quiet">Everyone whose gift is in this machine or helped to make it, by name, all given the same weight.</p>
      </section>
      <Bounds record={record} serial={standing?.serial ?? null} />
    </article>
  )
}

function NotCertified({ missing, before }: { missing: string[]; before: string | null }) {
  return (
    <>
      {before && (
        <p>
          An earlier certificate,{' '}
          <a className="code" href={`/certificates/${before}`}>
            {before}
          </a>
          , no longer stands.
        </p>
      )}
      {missing.length > 0 && (
        <details>
          <summary>What it still needs ({missing.length})</summary>
          <ul>
            {missing.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  )
}
