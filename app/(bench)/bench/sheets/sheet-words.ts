import type { SheetWhat } from '#gifts/sheets/sheets.contract'

/** What each kind of sheet is called, what belongs into it, and where what was stored of it is seen. */
export const SHEET_WORDS: Record<SheetWhat, { title: string; about: string; columns: string; seen: { href: string; label: string } }> = {
  donors: {
    title: 'Donors and what they gave',
    about: 'A row for each donor, or for each gift. Nobody of a sheet is named anywhere until you have asked them.',
    columns: 'name (or first name and last name); and mail, gift, kind, quantity, amount, hours, day, state, thanked, credit as, note',
    seen: { href: '/bench/donors', label: 'Donors' },
  },
  shelf: {
    title: 'Parts on the shelf',
    about: 'A row for each bag, box or reel. “100n”, “0,1uF” and “104” are read as the same value.',
    columns:
      'part (or value) and quantity; and kind, value, tolerance, rating, package, place, from (who gave it), bought from, marking, date code, day',
    seen: { href: '/bench/parts', label: 'Parts' },
  },
  machines: {
    title: 'Machines you built before',
    about: 'A row for each machine. What they raised counts in no campaign, and to whom they went is not stored.',
    columns: 'design; and serial, built, hours, raised, currency, fate, when',
    seen: { href: '/bench/earlier', label: 'Earlier machines' },
  },
}
