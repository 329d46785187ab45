import { type CommonCause, causeWords, chanceWords } from '#bench/faults/common-cause.rules'
import type { CommonFailure } from '#bench/faults/glance.contract'
import { sharedWords } from '#bench/faults/shared.rules'

const FACTOR_WORDS: Record<CommonCause['factor'], string> = {
  batch: 'Batch',
  builder: 'Builder',
  instrument: 'Instrument',
  step: 'Soldered on',
}

/** Checks that failed on several units, and what those units have in common that the others have not, least likely an accident first. */
export function CommonCauses({ common }: { common: readonly CommonFailure[] }) {
  if (common.length === 0) return null
  return (
    <section className="sheet stack" aria-labelledby="common">
      <h2 id="common">Failed more than once: something common?</h2>
      {common.map((failure) => (
        <div key={failure.check} className="stack close">
          <h3>
            {sharedWords({ check: failure.check, tags: failure.failed })}: {failure.title}
          </h3>
          {failure.causes.length === 0 ? (
            <p>
              Of the {failure.taken} units on which it was taken, the failed ones share no batch, builder, instrument or day that the others
              do not share as well. What all of them share cannot be told from chance: consider the design, or how the check is made.
            </p>
          ) : (
            <>
              <table className="cards">
                <caption className="visually-hidden">What the units on which {failure.check} failed have in common</caption>
                <thead>
                  <tr>
                    <th scope="col">In common</th>
                    <th scope="col" className="num">
                      Failed with it
                    </th>
                    <th scope="col" className="num">
                      Failed without
                    </th>
                    <th scope="col" className="num">
                      By accident
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {failure.causes.map((cause) => (
                    <tr key={`${cause.factor} ${cause.name}`}>
                      <th scope="row">
                        {FACTOR_WORDS[cause.factor]} <b>{cause.name}</b>
                        <span className="under">{cause.where}</span>
                      </th>
                      <td className="num" data-label="Failed with it">
                        {cause.failedWith} of {cause.failedWith + cause.passedWith}
                      </td>
                      <td className="num" data-label="Failed without">
                        {cause.failedWithout} of {cause.failedWithout + cause.passedWithout}
                      </td>
                      <td className="num" data-label="By accident">
                        {chanceWords(cause.chance)}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
              <p className="small quiet">
                {causeWords(failure.taken, failure.failed.length, failure.compared)} Chances by Fisher's exact test, one-sided.
              </p>
            </>
          )}
        </div>
      ))}
    </section>
  )
}
