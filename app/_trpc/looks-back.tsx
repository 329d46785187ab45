'use client'

import { createContext, type ReactNode, useContext } from 'react'

const LooksBackContext = createContext(false)

/** Around pages on which an earlier campaign is at work: what the house sends of the present one is not theirs. */
export const LooksBack = ({ isSo, children }: { isSo: boolean; children: ReactNode }) => (
  <LooksBackContext.Provider value={isSo}>{children}</LooksBackContext.Provider>
)

/** What is sent of a whole campaign is of the present one. */
const OF_THE_PRESENT: readonly string[] = ['meter', 'day', 'lots', 'programme', 'credits']

/** Whether the frames of a topic are of another campaign than the page. */
export const useIsOfOther = (topic: string): boolean => useContext(LooksBackContext) && OF_THE_PRESENT.includes(topic)
