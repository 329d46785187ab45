import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { StaffOnly } from '../_refused/staff-only'
import { RaiseCeiling } from './raise-ceiling'
import { RoleForm } from './role-form'

export const metadata: Metadata = { title: 'People' }

export default async function PeoplePage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const [staff, paddles] = await Promise.all([caller.people.staff(), caller.people.paddles()])
  return (
    <div className="page stack">
      <h1>People</h1>
      <section className="sheet stack">
        <h2>Staff</h2>
        <table className="cards">
          <caption className="visually-hidden">Who works on this campaign</caption>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Role</th>
              <th scope="col">Mail</th>
            </tr>
          </thead>
          <tbody>
            {staff.map((one) => (
              <tr key={one.personId}>
                <td data-label="Name">{one.name}</td>
                <td data-label="Role">{one.role}</td>
                <td data-label="Mail">{one.email}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <h3>Give somebody a role</h3>
        <RoleForm />
        <p className="small">
          <Link href="/bench/record?kind=role">See which roles were given, and by whom</Link>
        </p>
      </section>
      <section className="sheet stack">
        <h2>Paddles</h2>
        {paddles.length === 0 ? (
          <EmptyState title="Nobody has a paddle yet.">Bidders get one after signing in with their email address.</EmptyState>
        ) : (
          <table className="cards">
            <caption className="visually-hidden">Paddles, where lots would be sent, and how high each may bid</caption>
            <thead>
              <tr>
                <th scope="col" className="num">
                  Paddle
                </th>
                <th scope="col">Name</th>
                <th scope="col">Goes to</th>
                <th scope="col" className="num">
                  Ceiling
                </th>
                <th scope="col">
                  <span className="visually-hidden">Raise</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {paddles.map((paddle) => (
                <tr key={paddle.number}>
                  <td className="num" data-label="Paddle">
                    {paddle.number}
                  </td>
                  <td data-label="Name">{paddle.name}</td>
                  <td data-label="Goes to">{countryName(paddle.country)}</td>
                  <td className="num" data-label="Ceiling">
                    {campaign && showMoney(paddle.ceilingMinor, campaign.currency, { short: true })}
                  </td>
                  <td>
                    <RaiseCeiling paddle={paddle.number} />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </section>
    </div>
  )
}
