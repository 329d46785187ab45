import type { Follower } from '../standby/lease'
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
  /** Who stands by; null while that is not known. */
  followers: readonly Follower[] | null
}

/** Whether servers of NATS hold what is new, and whether another machine could go on with it. */
export function judgeMachines({ trouble, isAlone, servers, confirmed, waiting, followers }: MachinesFacts): Finding {
  const also = [
    { key: 'machines-confirmed', unit: 'count', help: 'Message up to which the servers of NATS hold everything.', value: confirmed },
    { key: 'machines-waiting', unit: 'count', help: 'Groups of changes that wait to be confirmed.', value: waiting },
    { key: 'machines-following', unit: 'count', help: 'Machines that stand by and follow.', value: followers?.length ?? 0 },
  ] as const
  if (trouble !== null)
    return {
      value: 0,
      standing: 'bad',
      words: trouble,
      toDo: 'See that the servers that NATS_URL names run and are reached. If they will not be back, switch off every machine that stands by, and start this one with npm start -- --alone. There is no button for that: nothing here can tell whether one of them has taken over meanwhile.',
      also,
    }
  if (isAlone)
    return {
      value: 0,
      standing: 'bad',
      words: 'No server of NATS holds what is new: this house goes on alone, as it was told to.',
      toDo: 'See that the servers that NATS_URL names come back. What they miss is sent by itself then.',
      also,
    }
  if (servers === null) return { value: 0, standing: 'look', words: 'The servers of NATS are being looked for.', toDo: null, also }
  const held = `${servers === 1 ? 'One server holds' : `${servers} servers hold`} everything up to message ${inFigures(confirmed)}${waiting === 0 ? '' : `; ${waiting} ${waiting === 1 ? 'group is' : 'groups are'} on the way`}.`
  const words = `${held} ${followersInWords(followers)}`
  const toDo = [
    followers?.length === 0
      ? 'Where a machine is to go on when this one is lost: start npm run standby there, on a fresh copy, with the same NATS_URL.'
      : null,
    servers === 1 ? 'With three servers of NATS, any one of them may be lost: start two more, and name all three in NATS_URL.' : null,
  ].filter((one) => one !== null)
  return toDo.length === 0
    ? { value: servers, standing: 'good', words, toDo: null, also }
    : { value: servers, standing: 'look', words, toDo: toDo.join(' '), also }
}

const inFigures = (number: number): string => number.toLocaleString('en')

function followersInWords(followers: readonly Follower[] | null): string {
  if (followers === null) return 'Whether a machine stands by is not known at present.'
  if (followers.length === 0) return 'No machine stands by: when this one is lost, none goes on by itself.'
  return followers.map(({ name, number }) => `${name} stands by, and is up to message ${inFigures(number)}.`).join(' ')
}
