import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Unbroken } from '#app/_ui/unbroken.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { listWords } from '#stock/donors/gift.rules'
import { Unblockers } from '../unblockers'
import { BuildPicture, Key } from './build-picture'
import { ImportanceForm } from './importance-form'
import { Late } from './late'
import { PaceSheet } from './pace-sheet'
import { Shortfall } from './shortfall'

export const metadata: Metadata = { title: 'What can be built' }

export default async function BuildPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const build = await caller.buildable.now()
  const units = build.designs.flatMap((design) => design.units)
  const can = units.filter(({ buildable }) => buildable).map(({ tag }) => tag)
  const waiting = units.length - can.length
  const pace = <PaceSheet pace={build.pace} readyOn={build.ready.readyOn} />
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ label: 'Parts', href: '/bench/parts' }]} />
      <h1>What can be built</h1>
      {units.length === 0 ? (
        <>
          <EmptyState title="No unit is short of anything.">
            <p>{build.full.length > 0 ? 'Every unit has all its parts.' : 'Make a run of a design and its units appear here.'}</p>
          </EmptyState>
          {build.full.length > 0 && pace}
        </>
      ) : (
        <>
          <p>
            {can.length === 0 ? (
              'No unit can be completed from what is in hand. '
            ) : (
              <b>
                <Unbroken>{`${listWords(can, 'and')} can be completed from what is in hand: that is the most there can be.`}</Unbroken>{' '}
              </b>
            )}
            {waiting > 0 && `${waiting === 1 ? 'One more waits' : `${waiting} more wait`} for parts. `}
            {build.full.length > 0 && `${build.full.length} ${build.full.length === 1 ? 'has' : 'have'} all parts fitted. `}
            {build.aside.length > 0 &&
              `${listWords(build.aside, 'and')} ${build.aside.length === 1 ? 'is' : 'are'} set aside and not counted.`}
          </p>
          <section className="sheet stack" aria-labelledby="picture">
            <h2 id="picture">Units and lines</h2>
            <Key />
            {build.designs.map((design) => (
              <div key={design.designId} className="stack close">
                <h3>{design.name}</h3>
                <BuildPicture design={design} />
              </div>
            ))}
          </section>
          {build.unblockers.length > 0 && <Unblockers parts={build.unblockers} waiting={waiting} />}
          {build.shortfall.length > 0 && <Shortfall rows={build.shortfall} />}
          {pace}
          <Late delays={build.delays} undated={build.undated} ready={build.ready} isMaker={person.role === 'maker'} />
          {person.role === 'maker' && (
            <section className="sheet stack narrow" aria-labelledby="importance">
              <h2 id="importance">What comes first</h2>
              <p>
                Building as many units as possible comes first. Between plans that build equally many, the units you put first are built
                first.
              </p>
              <ImportanceForm units={units.map(({ unitId, tag, importance }) => ({ unitId, tag, importance }))} />
            </section>
          )}
        </>
      )}
    </div>
  )
}
