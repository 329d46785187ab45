'use client'

import { useSyncExternalStore } from 'react'

const never = () => () => {}

/** The country that the reader's browser is set to, as in "en-GB"; null where it names none, on the server and in the first rendering. */
export const useOwnCountry = (): string | null =>
  useSyncExternalStore<string | null>(
    never,
    () => countryIn(navigator.languages),
    () => null,
  )

/** Only what is said counts: "en" alone is spoken in many countries. */
export function countryIn(languages: readonly string[]): string | null {
  for (const language of languages) {
    const country = /-([A-Z]{2})(?:-|$)/.exec(language)?.[1]
    if (country !== undefined) return country
  }
  return null
}
