import { EmptyState } from '#app/_ui/empty-state.tsx'
import type { ContactsView } from '#end/deletion/deletion.contract'
import styles from './contacts.module.css'
import { People } from './people'

/** What would be deleted: how much of each kind, and whose it is. */
export function WhatGoes({ contacts }: { contacts: Pick<ContactsView, 'steps' | 'photographs' | 'bidders' | 'donors'> }) {
  const { steps, photographs, bidders, donors } = contacts
  if (steps.length === 0) return <EmptyState title="There is no contact data here." />
  return (
    <section className="stack" aria-labelledby="goes">
      <h2 id="goes">What would be deleted</h2>
      <table className={styles.kinds}>
        <caption>By kind</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" className="num">
              How many
            </th>
          </tr>
        </thead>
        <tbody>
          {steps.map(({ key, what, count }) => (
            <tr key={key}>
              <th scope="row">{what}</th>
              <td className="num">{count}</td>
            </tr>
          ))}
          {photographs > 0 && (
            <tr>
              <th scope="row">files of such photographs</th>
              <td className="num">{photographs}</td>
            </tr>
          )}
        </tbody>
      </table>
      <People
        title="Bidders"
        people={bidders.map(({ id, name, mail, bought }) => ({ id, name, mail, keeps: bought ? 'name stays with the books' : '' }))}
      />
      <People title="Donors" people={donors.map(({ id, name, mail }) => ({ id, name, mail, keeps: '' }))} />
    </section>
  )
}
