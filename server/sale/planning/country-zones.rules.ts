/** The hours at which a country lives: its time zones by the Unicode tables that the machine carries; none for an unknown country. */
export function zonesOfCountry(country: string): string[] {
  if (!/^[A-Z]{2}$/.test(country)) return []
  // Older engines have it as a property, newer ones as a function.
  const locale = new Intl.Locale('und', { region: country }) as Intl.Locale & { timeZones?: string[]; getTimeZones?(): string[] }
  return locale.getTimeZones?.() ?? locale.timeZones ?? []
}
