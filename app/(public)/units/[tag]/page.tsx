import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { cache } from 'react'
import { api } from '../../../_trpc/server'
import { Chip } from '../../../_ui/chip'
import { Notice } from '../../../_ui/notice'
import { Strip } from '../../../_ui/strip'
import type { Reached } from '../../../_ui/strip.rules'
import { Tag } from '../../../_ui/tag'
import { foundOr } from '../../_found'
import { LiveLine } from '../../credits/live-line'
import { Bounds } from './bounds'
import { Mended } from './mended'
import { Photographs } from './photographs'
import { AllReadings } from './readings'
import styles from './record.module.css'
import { dayIn, testedWords } from './record.rules'

interface Props {
  params: Promise<{ tag: string }>
}

const recordOf = cache(async (tag: string) => foundOr(async () => (await api()).certificates.record({ tag: decodeURIComponent(tag) })))

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const view = await recordOf((await params).tag)
  if (!view) return { title: 'No such machine' }
  const { record, lot } = view
  const title = `${record.tag}, its record of tests`
  const [picture] = lot?.photographs ?? []
  return {
    title,
    description: record.sentence,
    openGraph: { title, description: record.sentence, ...(picture && { images: [`/files/${picture.sha}-960.webp`] }) },
  }
}

/** What a bidder reads before trusting a machine: the verdict first, then everything that it rests on. Works without script. */
export default async function UnitPage({ params }: Props) {
  const view = await recordOf((await params).tag)
  if (!view) notFound()
  const { record, standing, lot, reached, now, zone, history } = view
  const credits = await (await api()).credits.forUnit({ tag: record.tag })
  const tone = record.setAside !== null || record.failed > 0 ? 'bad' : standing ? 'ok' : 'plain'
  return (
    <article className="page stack wide">
      <header className={styles.head}>
        <Tag
          code={record.tag}
          aside={<Chip tone={tone}>{standing ? 'Certified' : record.setAside === null ? 'Not certified' : 'Set aside'}</Chip>}
        >
          <h1>
            {record.design.name} <span className={styles.revision}>rev {record.design.revision}</span>
          </h1>
        </Tag>
        <Strip reached={reached as Reached} name={record.tag} />
      </header>

      <section className={`sheet stack ${styles.verdict}`} aria-labelledby="verdict">
        <h2 id="verdict">{record.sentence}</h2>
        <p>
          {record.firstReadingAt === null || record.lastReadingAt === null
            ? 'No reading has been taken.'
            : testedWords(record.firstReadingAt, record.lastReadingAt, now, zone)}
        </p>
        {standing ? (
          <p>
            Certificate{' '}
            <Link className="code" href={`/certificates/${standing.serial}`}>
              {standing.serial}
            </Link>
            , issued {dayIn(standing.issuedAt, zone)}. <span className="quiet">{record.proves}</span>
          </p>
        ) : (
          <NotCertified missing={record.missing.map((gap) => gap.words)} before={history[0]?.serial ?? null} />
        )}
        <nav aria-label="On this page" className={styles.jumps}>
          <a href="#readings">All {record.results.length} readings</a>
          <a href="#mended">What was mended</a>
          <a href="#given-by">Who gave</a>
          <a href="#bounds">What this proves</a>
          {lot && <a href={`/lots/${lot.number}`}>Lot {lot.number}</a>}
        </nav>
      </section>

      {record.design.cautions.length > 0 && (
        <Notice tone="doubt" title="Caution">
          {record.design.cautions.map((caution) => (
            <p key={caution}>{caution}</p>
          ))}
        </Notice>
      )}
      {lot && lot.photographs.length > 0 && <Photographs photographs={lot.photographs} />}
      <AllReadings results={record.results} atHome={record.atHome} zone={zone} />
      <Mended record={record} zone={zone} />
      <section className="stack" aria-labelledby="given-by">
        <h2 id="given-by">Given by</h2>
        <LiveLine initial={credits} nobody="Nobody is named here yet." />
        <p className="small quiet">Everyone whose gift is in this machine or helped to make it, by name, all with the same weight.</p>
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
          <Link className="code" href={`/certificates/${before}`}>
            {before}
          </Link>
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
