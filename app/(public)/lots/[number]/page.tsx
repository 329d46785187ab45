import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api, publicUrl } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Recording } from '#app/_ui/recording.tsx'
import { Strip } from '#app/_ui/strip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { LiveLine } from '#app/(public)/credits/live-line.tsx'
import { type AnswerTo, fiveAnswers } from '#app/(public)/units/[tag]/answers.rules.ts'
import { Answers } from '#app/(public)/units/[tag]/answers.tsx'
import { countryName } from '#kernel/countries'
import styles from './lot.module.css'
import { LotSale } from './lot-sale'
import { Pictures } from './pictures'
import { productJson } from './product'
import { RecordPart } from './record-part'
import { TermsPart } from './terms-part'
import { WhatItIs } from './what-it-is'

type Params = { params: Promise<{ number: string }> }

/** The number in the address, or the page that says there is no such lot. */
async function lotOf({ params }: Params): Promise<number> {
  const { number } = await params
  return /^[1-9]\d{0,8}$/.test(number) ? Number(number) : notFound()
}

export async function generateMetadata(props: Params): Promise<Metadata> {
  const lot = await lotOf(props)
  const page = await (await api()).lotPage.page({ lot }).catch(orNotFound)
  const { card, zone, photographs } = page
  const closing = card.closesAt === null ? '' : ` Closes ${sayWhen(card.closesAt, zone, 'both')}.`
  const description = `Lot ${lot}, ${card.unit}, in aid of ${page.cause.name}.${closing} With the record of its tests.`
  // The drawn card tells when it closes; the photograph comes second, for whoever shows more than one.
  const images = [
    { url: `/lots/${lot}/card.png`, alt: `Tag of lot ${lot}.${closing}`, width: 1200, height: 630 },
    ...photographs.slice(0, 1).map(({ sha, caption, width, height }) => ({ url: `/files/${sha}-960.webp`, alt: caption, width, height })),
  ]
  return { title: card.title, description, openGraph: { title: `${card.title} · lot ${lot}`, description, url: `/lots/${lot}`, images } }
}

/** The record is told in full on the page of the machine, so that is where more of an answer stands. */
const onRecordPage = (more: AnswerTo['more'], tag: string): AnswerTo['more'] => more && { ...more, href: `/units/${tag}${more.href}` }

export default async function LotPage(props: Params) {
  const lot = await lotOf(props)
  const caller = await api()
  const page = await caller.lotPage.page({ lot }).catch(orNotFound)
  const { card } = page
  const [{ person, campaign }, frame, view, credits, value, price] = await Promise.all([
    caller.people.shell(),
    caller.bidding.frame({ lot }),
    caller.record.ofUnit({ tag: card.unit }),
    caller.credits.forLot({ number: lot }),
    caller.relief.value({ lot }),
    caller.fixedPrice.of({ lot }),
  ])
  if (!frame) notFound()
  const side = person ? await caller.bidding.mySide({ lot }) : null
  const myPrice = person && frame.fixedPrice ? await caller.fixedPrice.mine({ lot }) : null
  const { record, standing } = view
  const { zone, stream, closings, like } = page
  const elsewhereUrl = card.soldWhere === 'elsewhere' ? card.elsewhereUrl : null
  const [about, ...more] = page.story.split(/\n{2,}/).filter((paragraph) => paragraph !== '')
  const verdictTone = standing ? 'ok' : 'doubt'
  return (
    <article className={`page ${styles.lot}`}>
      {/* biome-ignore lint/security/noDangerouslySetInnerHtml: JSON of our own, with every < escaped. */}
      <script type="application/ld+json" dangerouslySetInnerHTML={{ __html: productJson(page, frame, publicUrl()) }} />
      <header className={`stack ${styles.head}`}>
        <Tag
          code={`Lot ${lot} · ${card.unit}`}
          aside={<Chip tone={verdictTone}>{standing ? `Tested, ${record.passed} of ${record.checks}` : 'Not certified now'}</Chip>}
        >
          <h1>{card.title}</h1>
        </Tag>
        {page.earlier && (
          <p className="small quiet">
            This lot was in <Link href={`/campaigns/${page.earlier.slug}`}>{page.earlier.name}</Link>, a campaign that is over.
          </p>
        )}
        {page.photographs.length > 0 && <Pictures photographs={page.photographs} />}
      </header>
      <LotSale
        initial={frame}
        page={{
          zone,
          stream,
          closings,
          like,
          elsewhereUrl,
          resultSource: card.resultSource,
          highMinor: card.highMinor,
          afterwards: card.afterwards ?? '',
        }}
        ladder={page.ladder}
        side={side}
        price={price}
        myPrice={myPrice}
        countryName={side?.country ? countryName(side.country) : ''}
        watch={{ streamUrl: campaign?.streamUrl ?? '', playerUrl: campaign?.playerUrl ?? '' }}
      />
      <div className={`stack ${styles.rest}`}>
        <section className="stack close" aria-labelledby="what-it-is">
          <h2 id="what-it-is">What it is</h2>
          {about && <p>{about}</p>}
        </section>
        <section className="stack close" aria-labelledby="asked-first">
          <h2 id="asked-first">What you would ask first</h2>
          <Answers answers={fiveAnswers(view).map((answer) => ({ ...answer, more: onRecordPage(answer.more, card.unit) }))} />
        </section>
        <RecordPart view={view} tag={card.unit} telling={page.telling} />
        {page.recordings.length > 0 && (
          <section className="sheet stack" aria-labelledby="running">
            <h2 id="running">Hear and see it run</h2>
            {page.recordings.map((recording) => (
              <Recording key={recording.sha} {...recording} />
            ))}
          </section>
        )}
        {card.reached && <Strip reached={card.reached} name={card.unit} />}
        <WhatItIs page={page} more={more} value={value} />
        {credits.line && (
          <section className="sheet stack close">
            <h2>Given by</h2>
            <LiveLine initial={credits} nobody="No donor of this machine is named here." />
          </section>
        )}
        <TermsPart page={page} />
      </div>
    </article>
  )
}
