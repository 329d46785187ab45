import type { StepFunctions } from '#db/open'
import { keyedDigest, sealAnswer } from '#runtime/queue/kept-answer'
import type { Sealing } from '#runtime/queue/sealing'
import { sealFigure } from './sealed-figures'

/** What the steps of the database call to seal what lay open in an earlier house. */
export const sealingSteps = (keys: Sealing): StepFunctions => ({
  seal_figure: (boundTo: string, amountMinor: number, nonce: string) => sealFigure(keys, boundTo, amountMinor, nonce),
  // The column holds JSON text.
  seal_answer: (key: string, answer: string) => JSON.stringify(sealAnswer(keys, key, answer)),
  keyed_digest: (key: string, digest: string) => keyedDigest(keys, key, digest),
})
