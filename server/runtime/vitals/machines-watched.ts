import type { Publishing } from '../standby/publishing'
import type { Watched } from './vital'

/** Whether another machine could go on, where one is to stand by. */
export const machinesWatched = (publishing: Pick<Publishing, 'trouble' | 'isAlone'>): Watched => ({
  key: 'machines-reached',
  name: 'Other machines',
  unit: 'count',
  help: 'Whether what is new is held by other machines (1) or by this one alone (0).',
  limits: { lower: 1, upper: null },
  look() {
    const trouble = publishing.trouble()
    if (trouble !== null)
      return {
        value: 0,
        standing: 'bad',
        words: trouble,
        toDo: 'See that the servers that NATS_URL names run and are reached. If they will not be back and no other machine writes: npm start -- --alone.',
      }
    if (publishing.isAlone())
      return {
        value: 0,
        standing: 'bad',
        words: 'No other machine holds what is new: this house goes on alone, as it was told to.',
        toDo: 'See that the servers that NATS_URL names come back. What they miss is sent by itself then.',
      }
    return { value: 1, standing: 'good', words: 'What is new is held by other machines before it is answered.', toDo: null }
  },
})
