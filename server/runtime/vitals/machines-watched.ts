import type { Publishing } from '../standby/publishing'
import { judgeMachines } from './machines.rules'
import type { Watched } from './vital'

/** The machines that stand by, among all else that is watched of the house. */
export const machinesWatched = (publishing: Pick<Publishing, 'trouble' | 'isAlone' | 'howFar'>): Watched => ({
  key: 'machines-reached',
  name: 'Other machines',
  unit: 'count',
  help: 'Servers that hold what is new before it is answered; 0 while this machine alone does.',
  limits: { lower: 1, upper: null },
  look: () => judgeMachines({ trouble: publishing.trouble(), isAlone: publishing.isAlone(), ...publishing.howFar() }),
})
