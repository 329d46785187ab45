/** The stream day as a line on which lots close, and where on it we are. */
export interface DayOf {
  opensAt: number
  closesAt: number
  zone: string
  now: number
}
