import type { Metadata } from 'next'
import { FirstMakerForm } from './first-maker-form'

export const metadata: Metadata = { title: 'Become the maker', robots: { index: false } }

export default function FirstPage() {
  return (
    <div className="page stack">
      <h1>Become the maker</h1>
      <FirstMakerForm />
    </div>
  )
}
