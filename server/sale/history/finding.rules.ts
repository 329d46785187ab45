/** What a check of a history found, in words. */
export interface Finding {
  isSound: boolean
  words: string
}

export const broken = (words: string): Finding => ({ isSound: false, words })
