import { z } from 'zod'
import { withoutAtEnd } from '#kernel/text'
import { COPY_TO_WORDS, type CopyTo, readCopyTo } from './copy-to.rules'

export const LEAST_PASSPHRASE = 12

/** The settings of a copy that is kept elsewhere. */
export const COPY_SETTINGS = {
  COPY_TO: z
    .string()
    .refine((text) => readCopyTo(text) !== null, COPY_TO_WORDS)
    .optional()
    .describe('Where a copy of the house is kept, seconds old: a folder on another disk, `sftp://user@host/path` or `s3://bucket/path`.'),
  COPY_PASSPHRASE: z
    .string()
    .optional()
    .describe(
      'What the keys in the copy are encrypted with, at least 12 characters. Keep it where the copy is not; without it the copy opens nothing.',
    ),
  COPY_PASSPHRASE_FILE: z.string().min(1).optional().describe('File that holds it instead, in its first line.'),
  COPY_KEY_FILE: z.string().min(1).optional().describe('Private key for `sftp://`; without it those that OpenSSH finds by itself.'),
  COPY_ENDPOINT: z
    .url({ protocol: /^https?$/, error: 'an address such as https://store.example' })
    .transform((url) => withoutAtEnd(url, '/'))
    .optional()
    .describe('Address of the store behind `s3://`.'),
  AWS_ACCESS_KEY_ID: z.string().min(1).optional().describe('Key of the store behind `s3://`, by its usual name.'),
  AWS_SECRET_ACCESS_KEY: z.string().min(1).optional().describe('Its secret.'),
  AWS_REGION: z.string().min(1).default('us-east-1').describe('Region of the store behind `s3://`; many know only this one.'),
  LITESTREAM: z
    .string()
    .min(1)
    .optional()
    .describe('Litestream 0.3, where it is neither installed with the packages (Linux on x64) nor found on `PATH`.'),
}

/** How a place for a copy is reached, and by what. */
export interface CopyMeans {
  keyFile: string | undefined
  /** Another file than OpenSSH's own of the machines that it believes. */
  knownHosts?: string
  endpoint: string | undefined
  region: string
  accessKeyId: string | undefined
  secretAccessKey: string | undefined
  litestream: string | undefined
}

/** Where a copy is kept, and what its keys are encrypted with. */
export interface CopySettings {
  to: CopyTo
  passphrase: PassphraseSource
  means: CopyMeans
}

export type PassphraseSource = { words: string } | { file: string }

/** What the settings say of a copy elsewhere, all together. */
export interface CopyConfig {
  /** Null where no copy is kept elsewhere. */
  copy: CopySettings | null
  copyMeans: CopyMeans
  copyPassphrase: PassphraseSource | null
}

export function copyConfigOf(data: z.infer<z.ZodObject<typeof COPY_SETTINGS>>): CopyConfig {
  const copyMeans = {
    keyFile: data.COPY_KEY_FILE,
    endpoint: data.COPY_ENDPOINT,
    region: data.AWS_REGION,
    accessKeyId: data.AWS_ACCESS_KEY_ID,
    secretAccessKey: data.AWS_SECRET_ACCESS_KEY,
    litestream: data.LITESTREAM,
  }
  const { COPY_PASSPHRASE: words, COPY_PASSPHRASE_FILE: file } = data
  if (words !== undefined && file !== undefined)
    throw new Error('A setting is wrong:\n  COPY_PASSPHRASE and COPY_PASSPHRASE_FILE are both set; leave one of them out')
  const copyPassphrase = words !== undefined ? { words } : file !== undefined ? { file } : null
  const to = data.COPY_TO === undefined ? null : readCopyTo(data.COPY_TO)
  if (to !== null && copyPassphrase === null)
    throw new Error(
      'A setting is wrong:\n  COPY_TO wants COPY_PASSPHRASE or COPY_PASSPHRASE_FILE beside it: the keys of the house go into the copy, and only encrypted',
    )
  // A copy is opened with whatever it is given: whether that is the right one, the copy says.
  if (to !== null && words !== undefined && words.length < LEAST_PASSPHRASE)
    throw new Error(`A setting is wrong:\n  COPY_PASSPHRASE wants at least ${LEAST_PASSPHRASE} characters`)
  if (to?.kind === 's3' && [copyMeans.endpoint, copyMeans.accessKeyId, copyMeans.secretAccessKey].includes(undefined))
    throw new Error('A setting is wrong:\n  COPY_TO with s3:// wants COPY_ENDPOINT, AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY beside it')
  return {
    copy: to === null || copyPassphrase === null ? null : { to, passphrase: copyPassphrase, means: copyMeans },
    copyMeans,
    copyPassphrase,
  }
}
