import type { Finding } from './vital'

export interface MachinesFacts {
  /** Why nothing is taken, in words; null while it is. */
  trouble: string | null
  /** The house goes on though no other machine holds what is new. */
  isAlone: boolean
  /** How many servers hold what is new; null before they are reached. */
  servers: number | null
  /** Up to which message they have confirmed. */
  confirmed: number
  /** How many groups wait to be confirmed. */
  waiting: number
}

/** Whether another machine could go on, where one is to stand by. */
export function judgeMachines({ trouble, isAlone, servers, confirmed, waiting }: MachinesFacts): Finding {
  const also = [
    { key: 'machines-confirmed', unit: 'count', help: 'Message up to which the other machines have confirmed.', value: confirmed },
    { key: 'machines-waiting', unit: 'count', help: 'Groups of changes that wait to be confirmed.', value: waiting },
  ] as const
  if (trouble !== null)
    return {
      value: 0,
      standing: 'bad',
      words: trouble,
      toDo: 'See that the servers that NATS_URL names run and are reached. If they will not be back and no other machine writes: npm start -- --alone.',
      also,
    }
  if (isAlone)
    return {
      value: 0,
      standing: 'bad',
      words: 'No other machine holds what is new: this house goes on alone, as it was told to.',
      toDo: 'See that the servers that NATS_URL names come back. What they miss is sent by itself then.',
      also,
    }
  if (servers === null) return { value: 0, standing: 'look', words: 'The other machines are being looked for.', toDo: null, also }
  const far = `They have confirmed everything up to message ${confirmed.toLocaleString('en')}${waiting === 0 ? '' : `; ${waiting} ${waiting === 1 ? 'group is' : 'groups are'} on the way`}.`
  return servers === 1
    ? {
        value: servers,
        standing: 'look',
        words: `What is new is held by one server besides, before it is answered. ${far}`,
        toDo: 'With three servers of NATS, any one of them may be lost: start two more, and name all three in NATS_URL.',
        also,
      }
    : {
        value: servers,
        standing: 'good',
        words: `What is new is held by ${servers} servers before it is answered. ${far}`,
        toDo: null,
        also,
      }
}
