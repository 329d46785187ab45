/** Sizes of chip parts in hundredths of an inch, and bodies with their pins, as they stand within longer names of footprints. */
const SIZE = /(?:^|_)([CRLD]_?)?(0201|0402|0603|0805|1008|1206|1210|1806|1812|2010|2220|2512)(?=$|_)/
const BODY = /^((?:DIP|SDIP|SIP|SOIC|SO|SOP|SSOP|TSSOP|MSOP|QFP|LQFP|TQFP|QFN|DFN|PLCC|BGA|TO|SOT|SOD|DO)-\d{1,3}[A-Z]?)(?:[_-]|$)/i

/**
 * The package out of what a layout program calls a footprint: what stands before a colon is the library it comes from, and
 * a size or a body within the rest is the package. Anything else is the package as it is written.
 */
export function packageIn(footprint: string): string {
  const own = footprint.slice(footprint.lastIndexOf(':') + 1).trim()
  if (own === footprint.trim() && !own.includes('_')) return footprint
  const size = SIZE.exec(own)?.[2]
  return size ?? BODY.exec(own)?.[1] ?? own
}
