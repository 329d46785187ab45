import type { ReactNode } from 'react'
import { api } from '#app/_trpc/server.ts'
import { PartsNav } from '#app/_ui/parts-nav.tsx'
import { bookParts } from './parts.rules'

/** Every page of the books has the others at its head. */
export default async function MoneyLayout({ children }: { children: ReactNode }) {
  const { person } = await (await api()).people.shell()
  return (
    <>
      <PartsNav label="Parts of the books" parts={bookParts(person?.role ?? 'bidder')} />
      {children}
    </>
  )
}
