import type { ReactNode } from 'react'
import { api } from '#app/_trpc/server.ts'
import { BooksNav } from '../money/books-nav'
import { keepingParts } from './parts.rules'

/** Every page of closing the books has the others at its head. */
export default async function KeepingLayout({ children }: { children: ReactNode }) {
  const { person } = await (await api()).campaign.shell()
  return (
    <>
      <BooksNav parts={keepingParts(person?.role ?? 'bidder')} />
      {children}
    </>
  )
}
