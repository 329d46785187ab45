/** Names of browsers as people know them. The order matters: each of these says that it is the ones below it too. */
const BROWSERS = [
  ['Edge', /\bEdg(?:e|A|iOS)?\//],
  ['Opera', /\bOPR\//],
  ['Samsung Internet', /\bSamsungBrowser\//],
  ['Firefox', /\b(?:Firefox|FxiOS)\//],
  ['Chrome', /\b(?:Chrome|CriOS|HeadlessChrome)\//],
  ['Safari', /\bSafari\//],
] as const

const SYSTEMS = [
  ['Android', /\bAndroid\b/],
  ['an iPhone', /\biPhone\b/],
  ['an iPad', /\biPad\b/],
  ['ChromeOS', /\bCrOS\b/],
  ['Windows', /\bWindows\b/],
  ['macOS', /\bMacintosh\b/],
  ['Linux', /\bLinux\b/],
] as const

const MOST = 400

/** A browser as its owner would name it: "Firefox on Linux". Only these words are kept, and nothing more of what it says of itself. */
export function deviceInWords(userAgent: string | undefined): string {
  const said = (userAgent ?? '').slice(0, MOST)
  const browser = BROWSERS.find(([, is]) => is.test(said))?.[0]
  const system = SYSTEMS.find(([, is]) => is.test(said))?.[0]
  if (browser && system) return `${browser} on ${system}`
  if (browser) return browser
  return system ? `A browser on ${system}` : 'An unknown browser'
}
