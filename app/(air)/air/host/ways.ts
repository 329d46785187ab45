/** What the host can do to the day, each with its key. */
export const WAYS = [
  { way: 'guest', key: 'g', label: 'Guest late', brief: 'late', title: 'A guest is late' },
  { way: 'no-show', key: 'n', label: 'Guest not coming', brief: 'absent', title: 'A guest does not come' },
  { way: 'extend', key: 'e', label: 'Extend', brief: 'time', title: 'Give a closing time' },
  { way: 'swap', key: 's', label: 'Swap', brief: 'swap', title: 'Swap two closings' },
  { way: 'all-later', key: 'l', label: 'All later', brief: 'later', title: 'Everything later' },
  { way: 'end-later', key: 'd', label: 'End later', brief: 'end', title: 'Let the stream end later' },
  { way: 'hold', key: 'h', label: 'Hold everything', brief: 'hold', title: 'Hold everything?' },
  { way: 'resume', key: 'r', label: 'Go on', brief: 'go on', title: 'Let all clocks go on?' },
] as const

export type Way = (typeof WAYS)[number]['way']
export type ChangeWay = Exclude<Way, 'hold' | 'resume' | 'end-later' | 'no-show'>

/** What stands in the field until the host writes something better: on the day, a key and Enter must do. */
export const REASONS: Record<ChangeWay, string> = {
  guest: 'A guest is late.',
  extend: 'It is given more time on stream.',
  swap: 'The order on stream has changed.',
  'all-later': 'The stream runs late.',
}

/** What can be done now: clocks that stand go on, clocks that run are held. */
export const waysNow = (isHeld: boolean) => WAYS.filter(({ way }) => (way === 'resume' ? isHeld : way !== 'hold' || !isHeld))
