import type { ColumnWanted } from '#kernel/table'
import { readDay } from '#kernel/written-day'
import { readValue } from '#stock/catalogue/value.rules'
import type { SheetWhat } from './sheets.contract'

/** Most of the cells, and at least one, are so. */
const mostAre = (cells: readonly string[], test: (cell: string) => boolean): boolean =>
  cells.length > 0 && cells.filter(test).length >= cells.length * 0.6

const isDay = (cell: string) => readDay(cell, 'day first') !== null || readDay(cell, 'month first') !== null

const guessDay = (_heading: string, cells: readonly string[]) => (mostAre(cells, isDay) ? 'what stands in it reads as days' : null)
const guessMail = (_heading: string, cells: readonly string[]) =>
  mostAre(cells, (cell) => /^\S{1,64}@\S{3,250}$/.test(cell)) ? 'what stands in it reads as email addresses' : null
const guessCount = (_heading: string, cells: readonly string[]) =>
  mostAre(cells, (cell) => /^(?:ca\.? ?|~ ?|about )?\d{1,6}(?: ?(?:x|pcs|stk)\.?)?$/i.test(cell))
    ? 'what stands in it reads as counts'
    : null
const guessName = (heading: string, cells: readonly string[]) =>
  /nam|who|wer|person/i.test(heading) && mostAre(cells, (cell) => /^\p{L}[^\d@]{1,60}$/u.test(cell))
    ? 'what stands in it reads as names'
    : null

const one = (name: string, also: string[] = [], more: Partial<ColumnWanted> = {}): ColumnWanted => ({
  name,
  also,
  isRequired: false,
  ...more,
})

const DAY = [
  ...['date', 'on', 'received', 'received on', 'date received', 'arrived', 'arrived on', 'when', 'given on', 'donated on'],
  ...['datum', 'tag', 'eingang', 'erhalten am', 'fecha', 'data', 'reçu le'],
]
const QUANTITY = [
  'qty',
  'count',
  'number',
  'pcs',
  'pieces',
  'how many',
  'in stock',
  'stock',
  'anzahl',
  'menge',
  'stück',
  'quantité',
  'cantidad',
]

/** Who gave what: a row for each donor or for each gift. */
const DONORS: readonly ColumnWanted[] = [
  one(
    'name',
    [
      'donor',
      'donor name',
      'full name',
      'given by',
      'giver',
      'from',
      'who',
      'sender',
      'spender',
      'nom',
      'nombre',
      'nome',
      'donateur',
      'donante',
    ],
    { isRequired: true, orElse: ['last name', 'first name'], guess: guessName },
  ),
  one('first name', ['given name', 'forename', 'vorname', 'prénom']),
  one('last name', ['surname', 'family name', 'nachname', 'nom de famille']),
  one('mail', ['email', 'e-mail', 'email address', 'mailaddress', 'contact', 'e-mail-adresse', 'mailadresse', 'courriel', 'correo'], {
    guess: guessMail,
  }),
  one('credit as', ['credit', 'credit name', 'credited as', 'name as', 'show as', 'named as', 'display name']),
  one('gift', ['what', 'gave', 'what they gave', 'donation', 'item', 'items', 'description', 'gabe', 'spende', 'don', 'article']),
  one('kind', ['type', 'kind of gift', 'type of gift', 'category', 'art']),
  one('quantity', QUANTITY, { guess: guessCount }),
  one('amount', ['money', 'sum', 'amount given', 'cash', 'betrag', 'montant', 'importe']),
  one('hours', ['time', 'hours given', 'stunden', 'heures']),
  one('day', DAY, { guess: guessDay }),
  one('state', ['status', 'stand']),
  one('thanked', ['thanks', 'thank you', 'thanked on', 'thanks sent', 'thank you sent', 'bedankt']),
  one('note', ['notes', 'remark', 'remarks', 'comment', 'comments', 'bemerkung', 'notiz']),
]

/** What lies on the shelf: a row for each bag, box or reel. */
const SHELF: readonly ColumnWanted[] = [
  one(
    'part',
    [
      'name',
      'part name',
      'part number',
      'type number',
      'description',
      'item',
      'component',
      'what',
      'bauteil',
      'teil',
      'bezeichnung',
      'pièce',
    ],
    {
      isRequired: true,
      orElse: ['value'],
    },
  ),
  one('kind', ['type', 'part kind', 'category', 'class', 'art']),
  one('value', ['val', 'wert', 'valeur', 'valor'], {
    guess: (_heading, cells) => (mostAre(cells, (cell) => readValue(cell).ok) ? 'what stands in it reads as values' : null),
  }),
  one('tolerance', ['tol', 'toleranz', 'tolérance']),
  one('rating', ['ratings', 'voltage', 'power', 'watts', 'volts', 'spannung', 'leistung']),
  one('package', ['footprint', 'case', 'size', 'gehäuse', 'bauform', 'boîtier']),
  one('quantity', QUANTITY, { isRequired: true, guess: guessCount }),
  one('place', [
    'shelf',
    'bin',
    'drawer',
    'box',
    'location',
    'where',
    'stored in',
    'lager',
    'lagerort',
    'fach',
    'regal',
    'schublade',
    'emplacement',
  ]),
  one('from', ['donor', 'given by', 'from whom', 'gift of', 'source', 'spender', 'von', 'donateur']),
  one('bought from', ['supplier', 'seller', 'shop', 'vendor', 'bought at', 'lieferant', 'händler', 'fournisseur']),
  one('marking', ['mark', 'printed on it', 'aufdruck']),
  one('date code', ['datecode', 'd/c', 'lot code']),
  one('day', DAY, { guess: guessDay }),
]

/** What was built before: a row for each machine. */
const MACHINES: readonly ColumnWanted[] = [
  one('design', ['machine', 'model', 'name', 'what', 'type', 'project', 'gerät', 'modell', 'modèle'], { isRequired: true }),
  one('serial', ['serial number', 'serial no', 'number', 'no', 'tag', 'unit', 'seriennummer', 'nummer', 'numéro']),
  one(
    'built',
    ['built on', 'build date', 'date built', 'made', 'made on', 'finished', 'year', 'date', 'gebaut', 'baujahr', 'datum', 'année'],
    {
      guess: guessDay,
    },
  ),
  one('hours', ['time', 'bench hours', 'hours at the bench', 'build time', 'stunden', 'arbeitszeit', 'heures']),
  one('raised', ['price', 'sold for', 'amount', 'hammer', 'hammer price', 'proceeds', 'erlös', 'preis', 'prix', 'précio']),
  one('currency', ['cur', 'währung', 'devise', 'moneda']),
  one('fate', ['what became of it', 'state', 'status', 'now', 'outcome', 'verbleib']),
  one('when', ['sold on', 'date sold', 'sale date', 'gone on', 'verkauft am', 'vendu le']),
]

export const COLUMNS: Record<SheetWhat, readonly ColumnWanted[]> = { donors: DONORS, shelf: SHELF, machines: MACHINES }

/** Headings of what is never taken from a sheet, and why. */
const NEVER: Record<SheetWhat, readonly (readonly [RegExp, string])[]> = {
  donors: [
    [
      /consent|permission|agree|may (?:be )?(?:name|publish|show|credit)|ok to|einwillig|zustimm|publish|veröffentlich|accord/i,
      'is not taken: nobody is named until they have been asked here. Tick on each donor’s page what they agreed to.',
    ],
    [
      /address|street|city|post ?code|zip|phone|\btel\b|mobile|adresse|anschrift|telefon|straße|plz/i,
      'is not stored: a donor’s name and email address are enough.',
    ],
  ],
  shelf: [],
  machines: [
    [
      /buyer|customer|bought by|sold to|to whom|owner|winner|client|name of|email|e-mail|address|käufer|kunde|acheteur/i,
      'is not stored: to whom a machine went is nobody else’s business.',
    ],
  ],
}

/** A sentence for each column that was left out on purpose. */
export const leftOutOnPurpose = (what: SheetWhat, headings: readonly string[]): string[] =>
  headings.flatMap((heading) => {
    const why = NEVER[what].find(([pattern]) => pattern.test(heading.slice(0, 100)))?.[1]
    return why === undefined ? [] : [`“${heading.slice(0, 100)}” ${why}`]
  })
