import Link from 'next/link'
import type { Role } from '#kernel/role'

/** What a page of the bench shows to somebody whose page it is not. Permission itself is decided by each procedure. */
export function StaffOnly({ roles, person }: { roles: readonly Role[]; person: { name: string; role: Role } | null }) {
  return (
    <div className="page stack">
      <h1>This page is for the {roles.join(' and the ')}</h1>
      {person ? (
        <p>
          You are signed in as {person.name}, {person.role}. <Link href="/">The lots</Link> are open to everybody.
        </p>
      ) : (
        <p>
          <Link href="/sign-in">Sign in</Link> with the email address the maker gave a role to. <Link href="/">The lots</Link> are open to
          everybody.
        </p>
      )}
    </div>
  )
}
