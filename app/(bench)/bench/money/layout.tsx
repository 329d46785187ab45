import type { ReactNode } from 'react'
import { api } from '#app/_trpc/server.ts'
import { BooksNav } from './books-nav'
import { bookParts } from './parts.rules'

/** Every page of the books has the others at its head. */
export default async function MoneyLayout({ children }: { children: ReactNode }) {
  const { person } = await (await api()).campaign.shell()
  return (
    <>
      <BooksNav parts={bookParts(person?.role ?? 'bidder')} />
      {children}
    </>
  )
}
