import { readBound } from './bound.rules'
import { doubtOf } from './doubt.rules'
import { type Entry, readEntry, shiftEntry, thousandQuestion } from './entry.rules'
import { type Judgement, no, plain, refuse, type Taken } from './judged.rules'
import { compareMatch } from './match.rules'
import { oddity } from './odd.rules'
import { readSeveral } from './repeats.rules'
import type { SoakSeen } from './soak.rules'
import { conformityOfRectangle, decideVerdict, probabilityOfConformity } from './verdict.rules'

/** Reads what was typed for a check and gives the verdict, or says at which field to do what. */
export function judgeReading(taken: Taken): Judgement {
  switch (taken.check.kind) {
    case 'yesno':
      return judgeYesNo(taken)
    case 'match':
      return judgeMatch(taken)
    case 'soak':
      return judgeSoak(taken)
    case 'count':
      return judgeCount(taken)
    case 'measure':
      return judgeMeasure(taken)
  }
}

function judgeYesNo({ entry }: Taken): Judgement {
  const said = entry.normalize('NFKC').trim().toLowerCase()
  if (['yes', 'y'].includes(said)) return { ok: true, judged: plain('yes', 1, 'pass') }
  if (['no', 'n'].includes(said)) return { ok: true, judged: plain('no', 0, 'fail') }
  return no('entry', 'Answer yes or no.')
}

function judgeMatch({ check, entry }: Taken): Judgement {
  const answer = compareMatch(entry, check.expects)
  if (!answer.ok) return no('entry', answer.words)
  const isHash = answer.read.length === 64
  const shown = isHash ? `${answer.read.slice(0, 16)}…` : `0x${answer.read}`
  return {
    ok: true,
    judged: { ...plain(shown, answer.isSame ? 1 : 0, answer.isSame ? 'pass' : 'fail'), fileSha: isHash ? answer.read : null },
  }
}

function judgeCount({ check, rule, entry }: Taken): Judgement {
  const answer = readEntry(entry, check.unit)
  if (!answer.ok) return no('entry', answer.words)
  const { value, shown } = answer.entry
  if (!Number.isInteger(value) || value < 0) return no('entry', 'A count is a whole number. Count again.')
  return { ok: true, judged: plain(shown, value, decideVerdict(value, check, rule, 0)) }
}

/** Faults fail a soak whenever they come; without one it is not over before its hours and cold starts are. */
function judgeSoak(taken: Taken): Judgement {
  const { check, entry } = taken
  const faults = readEntry(entry, check.unit)
  if (!faults.ok) return no('entry', 'Write how many faults there were, such as 0.')
  const { value } = faults.entry
  if (!Number.isInteger(value) || value < 0) return no('entry', 'Faults are counted in whole numbers.')
  const ran = howLong(taken)
  if ('ok' in ran) return ran
  const { hours, starts } = ran
  const passed = value <= (check.upper ?? 0)
  if (passed && hours < (check.soakHours ?? 0)) {
    return no('hours', `It ran ${hours} of ${check.soakHours} h. Enter the soak when it is over, or at a fault.`)
  }
  if (passed && starts < (check.coldStarts ?? 0)) {
    return no('starts', `It had ${starts} of ${check.coldStarts} cold starts. Enter the soak when it is over, or at a fault.`)
  }
  const stated = taken.isStated ? `, ${STATED}` : ''
  const shown = `${value} ${check.unit || 'faults'} in ${hours} h, ${starts} cold starts${stated}`
  return { ok: true, judged: { ...plain(shown, value, passed ? 'pass' : 'fail'), hours, starts } }
}

/** Said wherever the hours of a soak are those that somebody wrote down. */
const STATED = 'stated, not observed here'

/** Hours and cold starts are those that the house saw; of a soak that ran elsewhere, those that somebody states. */
function howLong({ check, hours, starts, soakSeen, isStated }: Taken): SoakSeen | Extract<Judgement, { ok: false }> {
  if (!isStated) {
    if (soakSeen) return soakSeen
    return refuse('entry', 'No soak of this check ran here. Start it, or say that it ran elsewhere and write down its hours.')
  }
  if (soakSeen) return refuse('isStated', 'A soak of this check ran here, so its hours come from that run. Or stop it without a result.')
  const ran = readEntry(hours ?? '', 'h')
  if (!ran.ok || ran.entry.value < 0) return refuse('hours', `Write how many hours it ran, such as ${check.soakHours ?? 24}.`)
  const cold = readEntry(starts ?? '', '')
  if (!cold.ok || !Number.isInteger(cold.entry.value) || cold.entry.value < 0)
    return refuse('starts', 'Write how many cold starts it had, such as 6.')
  return { hours: ran.entry.value, starts: cold.entry.value }
}

function judgeMeasure(taken: Taken): Judgement {
  const bound = readBound(taken)
  if (bound) return bound
  const { check, rule, entry, instrument, confirmThousand } = taken
  const several = readSeveral(entry, check.unit)
  if (several && !several.ok) return no('entry', several.words)
  const answer = several ?? readEntry(entry, check.unit)
  if (!answer.ok) return no('entry', answer.words)
  const question = several ? null : thousandQuestion(answer.entry, check.nominal, check.unit)
  if (question && confirmThousand === undefined) return no('confirmThousand', question.words)
  const read: Entry = question && confirmThousand === 'shifted' ? shiftEntry(answer.entry, question) : answer.entry
  const odd = question ? null : oddity(read, check)
  if (odd !== null && !taken.confirmOdd) return no('confirmOdd', odd)
  const doubt = doubtOf(read, check, instrument, { repeats: several?.figures, further: taken.further })
  if (typeof doubt === 'string') {
    return rule === 'simple' && !taken.further
      ? { ok: true, judged: plain(read.shown, read.value, decideVerdict(read.value, check, rule, 0)) }
      : no('instrumentId', doubt)
  }
  if ('field' in doubt) return no(doubt.field, doubt.words)
  return {
    ok: true,
    judged: {
      ...plain(read.shown, read.value, decideVerdict(read.value, check, rule, doubt.expanded)),
      standardUncertainty: doubt.standard,
      expandedUncertainty: doubt.expanded,
      conformity:
        doubt.shape === 'rectangle'
          ? conformityOfRectangle(read.value, doubt.standard * Math.sqrt(3), check)
          : probabilityOfConformity(read.value, doubt.standard, check),
    },
  }
}
