import type { Metadata, Viewport } from 'next'
import type { ReactNode } from 'react'
import { ConfirmHost } from './_ui/confirm/confirm-host'
import { FirstTaps } from './_ui/first-taps/first-taps'
import './_ui/look/look'

export const metadata: Metadata = {
  title: { default: 'Tagstrip', template: '%s · Tagstrip' },
  description: 'Machines made by hand from gifts, sold for a cause, each with the record of its tests.',
}

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  viewportFit: 'cover',
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#f3eee3' },
    { media: '(prefers-color-scheme: dark)', color: '#151c1d' },
  ],
}

export default function RootLayout({ children }: { children: ReactNode }) {
  return (
    <html lang="en">
      <body>
        <FirstTaps />
        {children}
        <ConfirmHost />
      </body>
    </html>
  )
}
