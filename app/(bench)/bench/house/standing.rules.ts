import type { NoticeTone } from '#app/_ui/notice.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import type { Verdict } from '#bench/units/verdict.rules'
import type { VitalsView } from '#people/vitals/vitals.contract'
import type { Standing } from '#runtime/vitals/vital'

/** How each standing is said and drawn. */
export const STANDINGS: Readonly<Record<Standing, { tone: Tone; word: string; verdict: Verdict }>> = {
  good: { tone: 'ok', word: 'Good', verdict: 'pass' },
  look: { tone: 'doubt', word: 'Worth a look', verdict: 'pass within doubt' },
  bad: { tone: 'bad', word: 'Bad', verdict: 'fail' },
}

/** The whole house in one line. */
export function sayHouse({ vitals, standing }: Pick<VitalsView, 'vitals' | 'standing'>): { tone: NoticeTone; title: string } {
  const named = vitals.filter((vital) => vital.standing === standing).map(({ name }) => name)
  if (standing === 'good') return { tone: 'ok', title: 'The house is well.' }
  if (standing === 'look') return { tone: 'doubt', title: `The house does its work. Worth a look: ${named.join(', ')}.` }
  return { tone: 'bad', title: `The house needs you: ${named.join(', ')}.` }
}
