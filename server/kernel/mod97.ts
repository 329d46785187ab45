/**
 * ISO/IEC 7064 MOD 97-10 over digits and letters (A is 10, Z is 35): 1 for a text whose check digits are right. The
 * remainder is carried along, so that no big number is needed.
 */
export function mod97(text: string): number {
  let rest = 0
  for (const character of text) {
    for (const digit of Number.parseInt(character, 36).toString()) rest = (rest * 10 + Number(digit)) % 97
  }
  return rest
}
