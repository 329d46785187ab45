/** How often something happened among days that were played, and how sure that figure is. */
export interface Often {
  times: number
  of: number
  share: number
  /** The interval that holds the true chance in 95 of 100 such plays. */
  low: number
  high: number
}

/** 97.5 % point of the normal distribution. */
const Z = 1.959963984540054

/** A share with its interval by Wilson (1927), which stays sound where nothing or everything happened. */
export function often(times: number, of: number): Often {
  if (of === 0) return { times, of, share: 0, low: 0, high: 1 }
  const share = times / of
  const spread = 1 + (Z * Z) / of
  const middle = (share + (Z * Z) / (2 * of)) / spread
  const reach = (Z * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of))) / spread
  // At the ends the formula meets 0 and 1 exactly; the arithmetic misses them by its last digits.
  return { times, of, share, low: times === 0 ? 0 : middle - reach, high: times === of ? 1 : middle + reach }
}

/** "12 %", "under 1 %", "over 99 %": no more digits than the days can carry. */
export function sayShare(share: number): string {
  if (share === 0) return '0 %'
  if (share < 0.01) return 'under 1 %'
  if (share > 0.99 && share < 1) return 'over 99 %'
  return `${Math.round(share * 100)} %`
}

/** "11.2 to 12.5 %"; below one in a thousand with a digit more. */
export const sayInterval = ({ low, high }: Often): string => {
  const digits = high < 0.001 ? 2 : 1
  return `${(low * 100).toFixed(digits)} to ${(high * 100).toFixed(digits)} %`
}
