/** A program of a few lines that checks a certificate with a stock library, from two files and no network. */
export const offlineProgram = (serial: string): string => `import { readFileSync } from 'node:fs'
import { createLocalJWKSet, flattenedVerify } from 'jose'

const read = (file) => JSON.parse(readFileSync(file, 'utf8'))
const key = createLocalJWKSet(read('jwks.json'))
const { payload } = await flattenedVerify(read('${serial}.json'), key)
console.log(JSON.parse(new TextDecoder().decode(payload)))
`
