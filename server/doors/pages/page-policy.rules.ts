/** Where browsers report what a policy kept them from. */
export const REPORTS = '/api/reports'

/** A page loads what is the house's own, and runs those scripts and styles of its own alone that `allowed` names: by a word or by hashes. */
export const pagePolicy = (allowed: { scripts: readonly string[]; styles: readonly string[] }): string =>
  [
    "default-src 'self'",
    "base-uri 'none'",
    "object-src 'none'",
    "frame-ancestors 'none'",
    "form-action 'self'",
    "img-src 'self' data: blob:",
    ["script-src 'self'", ...allowed.scripts.map((source) => `'${source}'`)].join(' '),
    ["style-src 'self'", ...allowed.styles.map((source) => `'${source}'`)].join(' '),
    // React writes lengths and colours of pictures as attributes. They style their own element and nothing else.
    "style-src-attr 'unsafe-inline'",
    `report-uri ${REPORTS}`,
    'report-to reports',
  ].join('; ')
