/** Where browsers report what a policy kept them from. */
export const REPORTS = '/api/reports'

export interface AllowedOnPage {
  scripts: readonly string[]
  styles: readonly string[]
  /** The origin of the stream's player, which is shown where somebody asks for it; nobody else's page ever is. */
  player: string | null
}

/** A page loads what is the house's own, and runs those scripts and styles of its own alone that `allowed` names: by a word or by hashes. */
export const pagePolicy = (allowed: AllowedOnPage): string =>
  [
    "default-src 'self'",
    "base-uri 'none'",
    "object-src 'none'",
    "frame-ancestors 'none'",
    "form-action 'self'",
    "img-src 'self' data: blob:",
    ...(allowed.player === null ? [] : [`frame-src ${allowed.player}`]),
    ["script-src 'self'", ...allowed.scripts.map((source) => `'${source}'`)].join(' '),
    ["style-src 'self'", ...allowed.styles.map((source) => `'${source}'`)].join(' '),
    // React writes lengths and colours of pictures as attributes. They style their own element and nothing else.
    "style-src-attr 'unsafe-inline'",
    `report-uri ${REPORTS}`,
    'report-to reports',
  ].join('; ')
