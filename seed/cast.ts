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
  { name: 'Thea Novak', country: 'GB' },
  { name: 'Idris Fenn', country: 'IE' },
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
