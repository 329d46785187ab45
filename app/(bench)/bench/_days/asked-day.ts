/** The number of the stream day that an address asks for; nothing where it asks for none that there could be. */
export const askedDay = (written: string | string[] | undefined): number | undefined =>
  typeof written === 'string' && /^[1-9]\d{0,2}$/.test(written) ? Number(written) : undefined
