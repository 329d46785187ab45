/** Of the units of a run on which a check was taken: with pieces of a batch and without, which failed it and which passed. */
export interface BatchInRun {
  failedWith: number
  passedWith: number
  failedWithout: number
  passedWithout: number
}

/** No batch is made likelier than this by a few units: a run is small, and many batches are compared. Common practice, no source. */
const MOST_TIMES = 20

/**
 * How many times likelier a piece of a batch is the cause for what the run shows: the Bayes factor for "units with the batch
 * fail in another share than those without" against "all fail alike", each share uniform beforehand (two binomials with beta
 * priors; Kass and Raftery 1995). In 2 of 2 that fail and in none of 3 that pass it is 5. One where units with it fail no more often.
 */
export function timesLikelier({ failedWith, passedWith, failedWithout, passedWithout }: BatchInRun): number {
  const having = failedWith + passedWith
  const lacking = failedWithout + passedWithout
  if (having === 0 || lacking === 0 || failedWith / having <= failedWithout / lacking) return 1
  const apart = logBeta(failedWith, passedWith) + logBeta(failedWithout, passedWithout)
  const alike = logBeta(failedWith + failedWithout, passedWith + passedWithout)
  return Math.min(MOST_TIMES, Math.max(1, Math.exp(apart - alike)))
}

/** The logarithm of B(yes + 1, no + 1) = yes! no! ÷ (yes + no + 1)!. */
const logBeta = (yes: number, no: number): number => logFactorial(yes) + logFactorial(no) - logFactorial(yes + no + 1)

const logFactorial = (of: number): number => {
  let sum = 0
  for (let each = 2; each <= of; each++) sum += Math.log(each)
  return sum
}
