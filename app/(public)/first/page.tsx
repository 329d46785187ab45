import type { Metadata } from 'next'
import { FirstMakerForm } from './first-maker-form'

export const metadata: Metadata = { title: 'Become the maker', robots: { index: false } }

export default async function FirstPage({ searchParams }: { searchParams: Promise<{ token?: string }> }) {
  const { token } = await searchParams
  return (
    <div className="page stack">
      <h1>Become the maker</h1>
      {token ? (
        <FirstMakerForm token={token} />
      ) : (
        <p>This page is opened by the link that the house prints at its first start. Look for it where you ran the start command.</p>
      )}
    </div>
  )
}
