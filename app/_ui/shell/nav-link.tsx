'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import type { ReactNode } from 'react'
import { isHere } from './nav.rules'

/** A link of the navigation that knows when it leads to where one stands. */
export function NavLink({ href, className, children }: { href: string; className?: string; children: ReactNode }) {
  const here = isHere(usePathname(), href)
  return (
    <Link href={href} prefetch={false} className={className} aria-current={here ? 'page' : undefined}>
      {children}
    </Link>
  )
}
