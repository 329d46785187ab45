import type { ReactNode } from 'react'

/**
 * What a camera or a video mixer sees: dark, no header, no ground of its own, so that an overlay can
 * stand on the picture. A page that fills the screen adds the class `air-ground`.
 */
export default function AirLayout({ children }: { children: ReactNode }) {
  return (
    <main className="air" id="main">
      {children}
    </main>
  )
}
