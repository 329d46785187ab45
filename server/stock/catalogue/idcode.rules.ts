/** The fields of a device identification register (IEEE 1149.1, 12.1): 4 bits version, 16 part, 11 maker, and a 1. */
export interface Idcode {
  version: number
  part: number
  /** The eleven bits as read; their upper four count the continuation codes of JEP106, their lower seven are its code. */
  maker: number
  bank: number
  code: number
}

export type IdcodeAnswer = { ok: true; idcode: Idcode } | { ok: false; words: string }

/** Reads eight hexadecimal digits. What a broken chain answers, all ones or all noughts, is refused by name. */
export function readIdcode(text: string): IdcodeAnswer {
  const digits = bareHex(text)
  if (!/^[0-9a-f]{8}$/.test(digits)) {
    return { ok: false, words: 'An identification code has eight digits from 0 to 9 and A to F, such as 0x012345A7.' }
  }
  if (digits === 'ffffffff' || digits === '00000000') {
    const line = digits.startsWith('f') ? 'all ones' : 'all noughts'
    return { ok: false, words: `${line}: nothing answered. Check the power of the device, the cable and its TDO line, then read again.` }
  }
  const register = Number.parseInt(digits, 16)
  if (register % 2 === 0) {
    return { ok: false, words: 'An identification code is odd: its last bit is 1 (IEEE 1149.1). Check the digits.' }
  }
  const maker = (register >>> 1) & 0x7ff
  const code = maker & 0x7f
  return { ok: true, idcode: { version: register >>> 28, part: (register >>> 12) & 0xffff, maker, bank: (maker >>> 7) + 1, code } }
}

/** "version 2, part 0x9502, maker 0x049 (JEP106 bank 1, code 0x49)"; 0x7F continues a code and is no maker's own. */
export function sayIdcode({ version, part, maker, bank, code }: Idcode): string {
  const who = code === 0x7f ? 'which JEP106 gives to nobody' : `JEP106 bank ${bank}, code ${hex(code, 2)}`
  return `version ${version}, part ${hex(part, 4)}, maker ${hex(maker, 3)} (${who})`
}

/** What is different from what should have answered; null when nothing is. */
export function sayDifference(read: Idcode, wanted: Idcode): string | null {
  if (read.maker !== wanted.maker) return `another maker: ${hex(read.maker, 3)} answered, ${hex(wanted.maker, 3)} should`
  if (read.part !== wanted.part) return `another part of the same maker: ${hex(read.part, 4)} answered, ${hex(wanted.part, 4)} should`
  if (read.version !== wanted.version) return `another version of the right part: ${read.version} answered, ${wanted.version} should`
  return null
}

export const bareHex = (text: string): string =>
  text
    .normalize('NFKC')
    .trim()
    .toLowerCase()
    .replace(/^0x/, '')
    .replaceAll(/[\s_:-]/g, '')

const hex = (value: number, digits: number) => `0x${value.toString(16).toUpperCase().padStart(digits, '0')}`
