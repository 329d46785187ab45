import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { StepInto } from './step-into'

export const metadata: Metadata = { title: 'Step into a role', robots: { index: false } }

export default async function DemoPage() {
  const caller = await api()
  const { isDemo } = await caller.people.shell()
  const people = isDemo ? await caller.people.demoPeople() : null
  if (!people) notFound()
  return (
    <div className="page stack">
      <h1>Step into a role</h1>
      <p>
        <b>This is a demo.</b> Everything in it is invented: the cause, the people, the machines and the money. Only here can anybody step
        into a role; in a real campaign you sign in with a code by email.
      </p>
      <StepInto people={people} />
    </div>
  )
}
