import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { SignInForm } from './sign-in-form'
import { SignedIn } from './signed-in'

export const metadata: Metadata = { title: 'Sign in' }

export default async function SignInPage({ searchParams }: { searchParams: Promise<{ next?: string }> }) {
  const { person } = await (await api()).campaign.shell()
  const { next } = await searchParams
  // Only a path of our own: an address from outside must not be able to lead away.
  const onward = next?.startsWith('/') && !next.startsWith('//') && !next.includes('\\') ? next : undefined
  return (
    <div className="page stack">
      <h1>Sign in</h1>
      {person ? <SignedIn name={person.name} role={person.role} onward={onward} /> : <SignInForm onward={onward} />}
    </div>
  )
}
