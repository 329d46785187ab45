import type { inferRouterOutputs } from '@trpc/server'
import type { RootRouter } from '#doors/trpc/root'
import { chanceToFind } from '#stock/shelf/sampling.rules'
import { Draw, Measured, PlanCurve } from './plan-picture'
import { PlanForm, TestForm } from './sampling-forms'
import { WaiveForm } from './waive-form'

type Card = inferRouterOutputs<RootRouter>['buildable']['part']['sampling'][number]

/** How far the testing of a batch is, what is believed of the rest, and the next ones to be tested. */
export function Sampling({ card, code, quantity, isMaker }: { card: Card; code: string; quantity: number; isMaker: boolean }) {
  const { plan, isEach, tested, bad, untested } = card
  return (
    <details open={plan?.verdict === 'going on' || undefined}>
      <summary>
        {tested === 0 ? 'None tested yet' : `${tested} tested, ${bad === 0 ? 'none bad' : `${bad} bad`}`}
        {plan?.verdict === 'going on' && `, ${plan.sample - tested} more by the plan`}
        {plan?.verdict === 'rejected' && ': more bad ones than the plan allows'}
        {plan?.verdict === 'accepted' && ': accepted by the plan'}
      </summary>
      <div className="stack close">
        {plan && (
          <p>
            By the plan (MIL-STD-105E, level {plan.level}, AQL {plan.aql}) <b>{plan.sample}</b> are tested, and{' '}
            {plan.accept === 0 ? 'none' : `at most ${plan.accept}`} may be bad.{' '}
            {card.isBarred && 'It is rejected: nothing of it is fitted until it is tested to the last piece, or let through by name.'}
          </p>
        )}
        {card.waived && (
          <p>
            Let through by {card.waived.name}: {card.waived.reason}
          </p>
        )}
        {plan && <PlanCurve quantity={quantity} plan={plan} />}
        {plan?.verdict === 'going on' && <Draw numbers={card.draw} quantity={quantity} />}
        {card.measured.map((one) => (
          <Measured key={one.unit} {...one} />
        ))}
        {(card.beside.bad > 0 || card.beside.good > 0) && (
          <p className="small quiet">
            Found in machines or beside the sample: {card.beside.bad} bad, {card.beside.good} good in machines that hold a certificate. Both
            count in what is believed of the rest, and neither in the plan, which holds only for pieces drawn at random.
          </p>
        )}
        {isEach && <p>Each piece has a tag and is inspected on its own, so there is no sample.</p>}
        <Belief card={card} />
        {!isEach && !plan && tested === 0 && untested > 0 && <PlanForm batchId={card.batchId} code={code} quantity={quantity} />}
        {card.isBarred && isMaker && <WaiveForm batchId={card.batchId} code={code} />}
        {!isEach && untested > 0 && <TestForm batchId={card.batchId} code={code} />}
      </div>
    </details>
  )
}

/** What is known of those not tested: sentences with a chance in them. */
function Belief({ card: { tested, bad, untested, goodUntested, needed, toAskFor, small, isBarred, beside } }: { card: Card }) {
  if (untested === 0) return <p>Everything that is not fitted has been tested.</p>
  return (
    <>
      {small && tested === 0 && (
        <p>
          If {small.bad === 1 ? 'one' : small.bad} of these {untested} were bad, testing {small.test} would find one with{' '}
          {Math.round(100 * chanceToFind(untested, Math.min(small.bad, untested), Math.min(small.test, untested)))} %.
        </p>
      )}
      <p>
        Of the {untested} not tested, at least <b>{goodUntested}</b> {goodUntested === 1 ? 'is' : 'are'} good, with 90 %.{' '}
        <span className="small quiet">
          From {tested + beside.good} tested with {bad} bad, if at the start every share of bad ones was equally likely.
        </span>
      </p>
      {needed > 0 && !isBarred && (
        <p>
          Units are still waiting for {needed}.{' '}
          {toAskFor === 0
            ? 'There are enough good ones here, with 90 % certainty.'
            : toAskFor === null
              ? 'With this many bad ones no gift would be large enough: find another batch.'
              : `To get them from this batch alone, with 90 % certainty, ask for ${toAskFor} more, or test more of what you have.`}
        </p>
      )}
    </>
  )
}
