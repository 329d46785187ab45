/** Digits and letters without I, L, O and U, which are taken for others; each stands for five bits. */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
const CHARACTERS = 18
const GROUP = /.{4}(?=.)/g

/**
 * A head as it is read aloud: the first 90 bits of the root, eighteen characters, then as two digits the remainder of those bits by
 * 97. Since 97 is prime, every single wrong character and every swap of neighbours is found. Five groups of four.
 */
export function shortHead(rootHex: string): string {
  const bits = BigInt(`0x${rootHex.slice(0, 24)}`) >> 6n
  const body = Array.from(
    { length: CHARACTERS },
    (_, index) => ALPHABET[Number((bits >> BigInt(5 * (CHARACTERS - 1 - index))) & 31n)],
  ).join('')
  return `${body}${checkDigits(body)}`.replace(GROUP, '$& ')
}

/** What a person typed, as `shortHead` writes it; in words what is wrong with it where it is no such code. */
export function readShortHead(typed: string): { code: string } | { fault: string } {
  const bare = typed
    .toUpperCase()
    .replace(/[\s.–-]/g, '')
    .replaceAll('O', '0')
    .replace(/[IL]/g, '1')
  const strange = [...bare].find((character) => !ALPHABET.includes(character))
  if (strange) return { fault: `The code has no “${strange}”. It has digits and letters, without I, L, O and U.` }
  if (bare.length !== CHARACTERS + 2) return { fault: `The code has twenty characters in five groups of four; these are ${bare.length}.` }
  if (checkDigits(bare.slice(0, CHARACTERS)) !== bare.slice(CHARACTERS))
    return { fault: 'The last two digits do not fit the rest: one character is wrong, or two are swapped. Listen to it again.' }
  return { code: bare.replace(GROUP, '$& ') }
}

function checkDigits(body: string): string {
  const bits = [...body].reduce((sum, character) => (sum * 32 + ALPHABET.indexOf(character)) % 97, 0)
  return String(bits).padStart(2, '0')
}
