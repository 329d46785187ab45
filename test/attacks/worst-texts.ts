const fill = (piece: string, most: number) => piece.repeat(Math.max(0, Math.ceil(most / piece.length))).slice(0, Math.max(0, most))

/**
 * Texts of a length that cost most where a pattern goes back over what it has read, a list is taken apart, a range is
 * written out or a letter becomes many: one of each kind that some reader here could stumble over.
 */
const KINDS: readonly ((most: number) => string)[] = [
  (most) => fill('a', most),
  (most) => `${fill('a', most - 1)}!`,
  (most) => `x${fill(' ', most - 2)}x`,
  (most) => `x${fill(' \t\u00a0', most - 2)}x`,
  (most) => fill('\n', most),
  (most) => `a@${fill('.', most - 2)}`,
  (most) => `a@${fill('.', most - 3)}@`,
  (most) => `a@${fill('a.', most - 3)}@`,
  (most) => fill('0', most),
  (most) => `${fill('0', most - 1)}x`,
  (most) => `${fill('1,', most - 1)}x`,
  (most) => `${fill('1 ', most - 1)}x`,
  (most) => fill('1.', most),
  (most) => fill('-', most),
  (most) => fill('(', most),
  (most) => fill('"', most),
  (most) => fill('"a', most),
  (most) => fill("'", most),
  (most) => `=${fill("'=", most - 1)}`,
  (most) => fill(';=', most),
  (most) => fill('a ', most),
  (most) => fill('a-', most),
  (most) => fill('R1,', most),
  (most) => fill('R1-R99999999,', most),
  (most) => fill('R1-R', most),
  (most) => fill('GB,', most),
  (most) => fill('LOT ', most),
  (most) => fill('lot lot 1', most),
  (most) => fill('paddle no. ', most),
  (most) => fill('RF18 5390 0754 7034 ', most),
  (most) => fill('4k7', most),
  (most) => fill('1e9', most),
  (most) => fill('±(0.5 % + ', most),
  (most) => fill('µΩ', most),
  (most) => fill('\ufdfa', most),
  (most) => fill('e\u0301', most),
  (most) => fill('🔧', most),
  (most) => fill('2027-03-13 ', most),
  (most) => fill('19:', most),
  (most) => fill('http://', most),
  (most) => fill('<a href=', most),
  (most) => fill('a,b\n', most),
  (most) => fill('a;b;c\r\n', most),
  (most) => fill(',', most),
  (most) => fill('a,', most),
  (most) => `Designators,Part,Quantity\n${fill('R1-R9999,4k7,9999\n', most - 26)}`,
  (most) => `Date,Amount,Words\n${fill('2027-03-14,62.00,LOT 1 LOT 2 LOT 3\n', most - 18)}`,
  (most) => `Date,Amount,Words\n2027-03-14,62.00,"${fill('LOT ', most - 37)}"`,
]

export const WORST_KINDS = KINDS.length

/** The text of one kind, of just the length. */
export const worstText = (kind: number, most: number): string =>
  (KINDS[kind % KINDS.length] as (most: number) => string)(most).slice(0, most)
