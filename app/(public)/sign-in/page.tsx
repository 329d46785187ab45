import type { Metadata } from 'next'
import { cookies } from 'next/headers'
import { api, publicUrl } from '#app/_trpc/server.ts'
import { onwardPath } from '#kernel/onward'
import { ASKED_COOKIE, readAsked } from '#people/sign-in/asked-cookie.rules'
import { ByPasskey } from './by-passkey'
import { SignInForm } from './sign-in-form'
import { SignedIn } from './signed-in'

export const metadata: Metadata = { title: 'Sign in' }

export default async function SignInPage({ searchParams }: { searchParams: Promise<{ next?: string | string[] }> }) {
  const { person } = await (await api()).people.shell()
  const { next } = await searchParams
  const onward = onwardPath(next, publicUrl()) ?? undefined
  const asked = readAsked((await cookies()).get(ASKED_COOKIE)?.value)
  return (
    <div className="page stack">
      <h1>Sign in</h1>
      {person ? (
        <SignedIn name={person.name} role={person.role} onward={onward} />
      ) : (
        <>
          <SignInForm onward={onward} asked={asked} />
          <ByPasskey publicUrl={publicUrl()} onward={onward} />
        </>
      )}
    </div>
  )
}
