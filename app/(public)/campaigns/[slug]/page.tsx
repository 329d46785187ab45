import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Meter } from '#app/_ui/meter.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { EndedLots } from '../../_lots/lot-card'
import { Names } from '../../credits/names'

type Params = { params: Promise<{ slug: string }> }

async function read({ params }: Params) {
  const { slug } = await params
  const caller = await api()
  const found = await caller.nextCampaign.earlier({ campaign: slug }).catch(orNotFound)
  if (!found) notFound()
  return { slug, found }
}

export async function generateMetadata(given: Params): Promise<Metadata> {
  const { found } = await read(given)
  return { title: { absolute: `${found.name}, which is over` } }
}

/** An earlier campaign as it stands: what it raised, what became of its machines, who gave. */
export default async function EarlierCampaignPage(given: Params) {
  const { slug, found } = await read(given)
  const { name, causeName, streamOpensAt, endedAt, zone, meter, cards, frames, credits, present } = found
  const lots = frames.flatMap((frame) => {
    const card = cards.find(({ number }) => number === frame.number)
    return card ? [{ card, frame }] : []
  })
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>{name}</h1>
        <p>
          This campaign is over. Its stream was on {sayWhen(streamOpensAt, zone, 'day')}
          {causeName && `, in aid of ${causeName}`}, and it ended on {sayWhen(endedAt, zone, 'day')}. <Link href="/">{present}</Link> is the
          one that is on now.
        </p>
      </header>
      <Meter {...meter} label={`Raised for ${causeName || 'the cause'}`} />
      {lots.length > 0 && (
        <section className="stack" aria-labelledby="lots">
          <h2 id="lots">The lots</h2>
          <EndedLots lots={lots} zone={zone} />
        </section>
      )}
      {credits && credits.all.names.length + credits.all.friends > 0 && (
        <section className="stack" aria-labelledby="credits">
          <h2 id="credits">Whose gifts were in it</h2>
          <Names credits={credits.all} />
          <ul className="plain-list stack close">
            {credits.lots.map(({ number, title, unit, line }) => (
              <li key={number}>
                <Tag code={`Lot ${number} · ${unit}`} href={`/credits/lots/${number}`}>
                  <p>{title}</p>
                  <p className="small">{line || 'Nobody is named here for it.'}</p>
                </Tag>
              </li>
            ))}
          </ul>
        </section>
      )}
      <p className="small">
        As data (JSON): <a href={`/campaigns/${slug}/lots.json`}>lots</a> · <a href={`/campaigns/${slug}/proceeds.json`}>what was raised</a>{' '}
        · <a href={`/campaigns/${slug}/credits.json`}>credits</a>
      </p>
    </div>
  )
}
