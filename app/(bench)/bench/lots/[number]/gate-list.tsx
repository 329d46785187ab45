import Link from 'next/link'
import { Notice } from '#app/_ui/notice.tsx'
import { ToneMark } from '#app/_ui/tone-mark.tsx'
import type { Missing } from '#sale/lots/gate.rules'

/** What keeps the lot from opening, each with where it is put right. */
export function GateList({ missing }: { missing: Missing[] }) {
  if (missing.length === 0) return <Notice tone="ok" title="Nothing is missing: this lot may open." />
  return (
    <section className="sheet stack close" aria-labelledby="gate">
      <h2 id="gate">
        {missing.length === 1 ? 'One thing is missing before it may open' : `${missing.length} things are missing before it may open`}
      </h2>
      <ul className="plain-list stack close">
        {missing.map(({ what, words, where }) => (
          <li key={words} className="row" data-missing={what}>
            <ToneMark tone="doubt" size={14} />
            <span>{words}</span>
            <Link prefetch={false} href={where.href}>
              {where.label}
            </Link>
          </li>
        ))}
      </ul>
    </section>
  )
}
