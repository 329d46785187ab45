import type { PartKind } from '#stock/catalogue/part.contract'
import type { DonorIn } from '#stock/donors/donor.contract'

// Everybody here is invented, and so is what they say.

export const STAFF = { maker: 'Wilma Harrow', volunteer: 'Tobi Lark', treasurer: 'Edda Quill', host: 'Jory Penn' } as const

export const BIDDERS = [
  { name: 'Sunniva Dahl', country: 'NO' },
  { name: 'Anton Reyes', country: 'ES' },
  { name: 'Marit Oquendo', country: 'GB' },
  { name: 'Kenji Stroud', country: 'JP' },
  { name: 'Lorcan Vey', country: 'IE' },
] as const

const everything = { page: true, stream: true, card: true }

/** The donors, and which kinds of parts each sent in their parcel. */
export const DONORS: readonly (DonorIn & { sends: readonly PartKind[]; marking: string; note: string })[] = [
  {
    name: 'Slipway Board Works',
    contact: 'hello@slipwayboards.example',
    consents: everything,
    sends: ['board'],
    marking: 'SBW 41',
    note: 'Bare boards, cut and drilled.',
  },
  {
    name: 'Ines Abreu',
    sayIt: 'ee-NESH ah-BRAY-oo',
    contact: 'ines@abreu.example',
    consents: everything,
    sends: ['case', 'display'],
    marking: 'IA',
    note: 'Cases from her own bench, and the first of the displays.',
  },
  {
    name: 'Maro Lindqvist',
    sayIt: 'MAH-roh LIND-kvist',
    contact: 'maro@lindqvist.example',
    consents: everything,
    sends: ['inductor', 'transformer'],
    marking: 'ML wound',
    note: 'Wound by hand, each measured.',
  },
  {
    name: 'Tideway Radio Club',
    contact: 'secretary@tidewayradio.example',
    consents: everything,
    sends: ['crystal', 'transistor'],
    marking: 'TRC 12/41',
    note: 'From the club’s drawers.',
  },
  {
    name: 'Oda Fjell',
    contact: 'oda@fjell.example',
    anonymity: 'friend',
    consents: everything,
    sends: ['connector', 'switch', 'fuse'],
    marking: 'OF',
    note: 'Sockets and switches, new in their bags.',
  },
  {
    name: 'Petra Vane',
    sayIt: 'PET-ra VAYN',
    contact: 'petra@vane.example',
    consents: everything,
    sends: ['chip'],
    marking: 'PV 08',
    note: 'Chips, programmed and read back before they were sent.',
  },
  {
    name: 'Hollin and Daughter',
    contact: 'bench@hollin.example',
    consents: { page: true, stream: false, card: true },
    sends: ['resistor'],
    marking: 'H&D 1 %',
    note: 'Four reels and a half.',
  },
  {
    name: 'Bram Osei',
    contact: 'bram@osei.example',
    consents: everything,
    sends: ['capacitor'],
    marking: 'BO 105',
    note: 'Capacitors, sorted.',
  },
  {
    name: 'Left at the door',
    anonymity: 'unknown',
    sends: ['diode'],
    marking: '',
    note: 'A bag without a name; nobody saw who left it.',
  },
  {
    name: 'Sefu Marlow',
    sayIt: 'SEH-foo MAR-low',
    contact: 'sefu@marlow.example',
    consents: everything,
    sends: ['other'],
    marking: 'SM',
    note: 'Odds and ends that turned out to be just right.',
  },
]

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
}

const receiver = `Tunes from 5.9 to 10.1 MHz by a slow-motion dial, with a beat oscillator for telegraphy. The coils were wound by hand and every stage was measured on its own before the next was fitted.

It wants a wire of some metres as an aerial, and a supply of 12 V with a fuse.`

const voice = `One voice: an oscillator that tracks a keyboard over five octaves, a filter of four poles, an envelope and an amplifier. It was tuned after twenty minutes and tuned again on the second day.`

const clock = `Six figures in amber behind bent oak, with a crystal that was trimmed against a reference over two days. It keeps the time for an hour without its supply.`

export const SALES: readonly SaleStory[] = [
  {
    unit: 'TERN-01',
    title: 'Saltmarsh shortwave receiver, the first of four',
    story: receiver,
    extras: 'A coil of aerial wire\nA card of the bands, printed by the school',
    opening: '60',
    reserve: null,
    estimate: ['90', '140', '220'],
  },
  {
    unit: 'LARK-01',
    title: 'Copperbeech voice, in its folded case',
    story: voice,
    extras: 'Six patch cords',
    opening: '80',
    reserve: '120',
    estimate: ['110', '180', '260'],
  },
  {
    unit: 'TERN-02',
    title: 'Saltmarsh shortwave receiver, 5.9 to 10.1 MHz',
    story: receiver,
    extras: 'A coil of aerial wire\nAn afternoon with the radio club, to learn to use it',
    opening: '60',
    reserve: '110',
    estimate: ['90', '150', '240'],
  },
  {
    unit: 'WREN-01',
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
    title: 'Copperbeech voice, the quiet one',
    story: voice,
    extras: 'Six patch cords\nA recording made with it',
    opening: '80',
    reserve: '150',
    estimate: ['110', '190', '280'],
  },
]
