'use client'

import { useSyncExternalStore } from 'react'

const never = () => () => {}
const readZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC'

/** The reader's own zone; null on the server and in the first rendering, so that both agree. */
export const useReaderZone = (): string | null => useSyncExternalStore<string | null>(never, readZone, () => null)
