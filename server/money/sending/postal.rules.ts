import PostalAddress, { addressFormats } from 'i18n-postal-address'
import { countryName } from '#kernel/countries'

/** An address as its reader gave it; `street` may have several lines. */
export interface PostalParts {
  name: string
  street: string
  place: string
  postcode: string
  /** State, province or prefecture; empty where there is none. */
  region: string
  country: string
}

const REGIONS = {
  state: 'State',
  province: 'Province',
  prefecture: 'Prefecture',
  region: 'Region',
  do: 'Province',
  republic: 'Republic',
} as const
/** Without it the carriers of these countries do not find the place. */
const NEEDED: ReadonlySet<string> = new Set(['AU', 'BR', 'CA', 'IN', 'JP', 'MX', 'US'])
/** What is written there from the country down to the person, in its own script; in Latin letters it runs the other way. */
const CJK = /[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]/

const formatOf = (country: string): string[][] =>
  (addressFormats[country]?.default?.array ?? []).map((line) =>
    line.map((part) => String(typeof part === 'object' ? part.attribute : part)),
  )

/** What a country calls the part that its addresses have beside the town, and whether they need it; null where they have none. */
export function regionOf(country: string): { label: string; isNeeded: boolean } | null {
  const found = formatOf(country)
    .flat()
    .find((attribute) => attribute in REGIONS) as keyof typeof REGIONS | undefined
  return found ? { label: REGIONS[found], isNeeded: NEEDED.has(country) } : null
}

/** Whether the town stands before the postcode there. */
export function isTownFirst(country: string): boolean {
  const all = formatOf(country).flat()
  const isDownwards = formatOf(country)[0]?.includes('country') ?? false
  return all.includes('city') && all.includes('postalCode') && all.indexOf('city') < all.indexOf('postalCode') !== isDownwards
}

/**
 * An address in the lines of its country, the country last in the words of where it is sent from. Where the form of the
 * country has no place for something that was written, it stands in the general order, so that nothing is ever left out.
 */
export function postalLines(parts: PostalParts): string[] {
  const { name, street, place, postcode, region, country } = parts
  const [first = '', ...more] = street
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean)
  const inForm = formatted({ ...parts, first, rest: more.join(', ') })
  const whole = inForm.join('\n').toLowerCase()
  const isWhole = [name, first, ...more, place, postcode, region].every((part) => whole.includes(part.trim().toLowerCase()))
  const lines = isWhole ? inForm : [name, first, ...more, `${postcode} ${place}`, region]
  return [...lines.map((line) => line.replaceAll(/\s+/g, ' ').trim()), countryName(country)].filter(Boolean)
}

function formatted({ name, first, rest, place, postcode, region, country }: PostalParts & { first: string; rest: string }): string[] {
  if (formatOf(country).length === 0) return []
  const address = new PostalAddress({ formats: addressFormats, defaultFormat: 'US' })
  address.setGivenName(name).setAddress1(first).setAddress2(rest).setCity(place).setPostalCode(postcode)
  address.setState(region).setProvince(region).setPrefecture(region).setRegion(region).setRepublic(region)
  address.setFormat({ country, type: 'default', useTransforms: true })
  const lines = address.toArray().map((line) => line.map(String).filter(Boolean))
  const isDownwards = formatOf(country)[0]?.includes('country') ?? false
  if (!isDownwards || CJK.test(`${place}${first}`)) return lines.map((line) => line.join(' '))
  return lines.reverse().map((line) => line.reverse().join(' '))
}

/** Without it the carriers of these countries do not find the place, or charge for finding it. */
const NEED_POSTCODE: ReadonlySet<string> = new Set(
  'AT AU BE BG BR CA CH CZ DE DK EE ES FI FR GB GG GR HR HU IM IN IT JE JP KR LT LU LV MX MY NL NO NZ PL PT RO SE SG SI SK US'.split(' '),
)

/** Whether an address there is incomplete without its postcode. */
export const needsPostcode = (country: string): boolean => NEED_POSTCODE.has(country)

/** For a form: of each country that asks for more than street, postcode and town in that order, what it asks. */
export interface CountryForm {
  label?: string
  isNeeded?: boolean
  isTownFirst?: boolean
  needsPostcode?: boolean
}
export function countryForms(countries: readonly string[]): Record<string, CountryForm> {
  const asked = countries.map((country): [string, CountryForm] => {
    return [
      country,
      { ...regionOf(country), ...(isTownFirst(country) && { isTownFirst: true }), ...(needsPostcode(country) && { needsPostcode: true }) },
    ]
  })
  return Object.fromEntries(asked.filter(([, form]) => Object.keys(form).length > 0))
}
