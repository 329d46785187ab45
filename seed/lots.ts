// What is said of each lot. Everything here is invented.

export interface SaleStory {
  unit: string
  title: string
  story: string
  extras: string
  opening: string
  reserve: string | null
  estimate: [string, string, string]
  /** Where it is sold, when that is not here. */
  elsewhereUrl?: string
  /** When it closes, in minutes from now; null where that is still to be planned. */
  closes: number | null
  /** It has its time, and that is not announced yet. */
  isToAnnounce?: boolean
}

const receiver = `Tunes from 5.9 to 10.1 MHz by a slow-motion dial, with a beat oscillator for telegraphy. The coils were wound by hand and every stage was measured on its own before the next was fitted.

It wants a wire of some metres as an aerial, and a supply of 12 V with a fuse.`

const voice = `One voice: an oscillator that tracks a keyboard over five octaves, a filter of four poles, an envelope and an amplifier. It was tuned after twenty minutes and tuned again on the second day.`

const oscillator = `One knob for the tone and one for how loud it is, and a socket for a key: enough to learn Morse at a kitchen table. Turned from one piece of ash.

It runs from 5 V. A key is not part of it.`

const tester = `It sounds while what its two probes touch is whole, and stays silent for a bad joint. Hardly any current flows, so it does no harm to what it tests.

Only for circuits without power.`

const clock = `Six figures in amber behind bent oak, with a crystal that was trimmed against a reference over two days. It keeps the time for an hour without its supply.`

export const SALES: readonly SaleStory[] = [
  {
    unit: 'TERN-01',
    closes: -210,
    title: 'Saltmarsh shortwave receiver, the first of four',
    story: receiver,
    extras: 'A coil of aerial wire\nA card of the bands, printed by the school',
    opening: '60',
    reserve: null,
    estimate: ['90', '140', '220'],
  },
  {
    unit: 'LARK-01',
    closes: -80,
    title: 'Copperbeech voice, in its folded case',
    story: voice,
    extras: 'Six patch cords',
    opening: '80',
    reserve: '120',
    estimate: ['110', '180', '260'],
  },
  {
    unit: 'TERN-02',
    closes: 7,
    title: 'Saltmarsh shortwave receiver, 5.9 to 10.1 MHz',
    story: receiver,
    extras: 'A coil of aerial wire\nAn afternoon with the radio club, to learn to use it',
    opening: '60',
    reserve: '110',
    estimate: ['90', '150', '240'],
  },
  {
    unit: 'WREN-01',
    closes: 55,
    title: 'Tidemill clock, six figures in bent oak',
    story: clock,
    extras: 'A drawing of its case by the cabinet maker',
    opening: '40',
    reserve: null,
    estimate: ['60', '90', '150'],
    elsewhereUrl: 'https://hammer.oakhall.example/tidemill-clock',
  },
  {
    unit: 'LARK-02',
    closes: 130,
    title: 'Copperbeech voice, the quiet one',
    story: voice,
    extras: 'Six patch cords\nA recording made with it',
    opening: '80',
    reserve: '150',
    estimate: ['110', '190', '280'],
  },
]

/** Those that come after the lot that is still being prepared: small machines, each made in an evening. */
export const SMALL_SALES: readonly SaleStory[] = [
  knot(1, 'the first of five', -285),
  ruff(1, 'the first of four', -150),
  knot(2, 'with a lower tone', 112),
  ruff(2, 'with long probes', 150),
  knot(3, 'in darker ash', 200),
  ruff(3, 'with a softer voice', 285),
  { ...knot(4, 'in pale ash', 345), isToAnnounce: true },
  ruff(4, 'the last of them', null),
  knot(5, 'the last of them', null),
]

function knot(unit: number, what: string, closes: number | null): SaleStory {
  const sold = { story: oscillator, extras: 'A card of the Morse code, printed by the school', opening: '12' }
  return {
    unit: `KNOT-0${unit}`,
    title: `Marram practice oscillator, ${what}`,
    ...sold,
    estimate: ['15', '26', '45'],
    reserve: null,
    closes,
  }
}

function ruff(unit: number, what: string, closes: number | null): SaleStory {
  const sold = { story: tester, extras: 'A pair of probes', opening: '10' }
  return {
    unit: `RUFF-0${unit}`,
    title: `Eelgrass continuity tester, ${what}`,
    ...sold,
    estimate: ['12', '20', '34'],
    reserve: null,
    closes,
  }
}
