import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { sealedLots } from '#sale/lots/sealed.rules'
import type { Packer, Packing } from './packer'
import type { PackIn, PackMade } from './packs.contract'
import * as store from './packs.store'

export interface PackLine {
  fileName: string
  at: Instant
  by: string | null
  bytes: number
  sha256: string
  withContacts: boolean
  isWhole: boolean
  /** The file is still here. */
  isHere: boolean
}

export interface PacksView {
  zone: string
  present: Packing | null
  packs: PackLine[]
  /** Until these have ended a pack leaves out what is sealed, and cannot be read back. */
  openLots: number[]
}

export function readPacks(sight: Sight, packer: Packer): PacksView {
  return {
    zone: findCampaign(sight)?.zone ?? 'UTC',
    present: packer.present(),
    packs: store.listPacks(sight.db).map(({ fileName, at, byPersonId, bytes, sha256, withContacts, isWhole }) => ({
      fileName,
      at,
      by: byPersonId === null ? null : (findPerson(sight, byPersonId)?.name ?? null),
      bytes,
      sha256,
      withContacts,
      isWhole,
      isHere: packer.find(fileName) !== null,
    })),
    openLots: sealedLots(listLots(sight)),
  }
}

/** The latest pack that can be read back, and how many entries the journal had when it was made; null before there is one. */
export function findLatestWhole(sight: Sight): { at: Instant; lastEntry: number } | null {
  return store.listPacks(sight.db).find(({ isWhole }) => isWhole) ?? null
}

/** Whether contact data is in a pack. One that nobody noted is held to have it. */
export const hasContacts = (sight: Sight, fileName: string): boolean =>
  store.listPacks(sight.db).find((one) => one.fileName === fileName)?.withContacts ?? true

export function startPack(sight: Sight, packer: Packer, actor: Actor, { withContacts }: PackIn): void {
  if (!findCampaign(sight)) throw new Refusal('conflict', 'There is no campaign yet, so there is nothing to pack.')
  if (!packer.start(sight, actor, withContacts)) throw new Refusal('conflict', 'A pack is already being made. Wait for it, or stop it.')
}

/** Says in the house that a pack was made, so that it is known by its digest later. */
export function notePack(
  turn: Turn,
  { fileName, byPersonId, bytes, sha256, withContacts, isWhole, lastEntry }: PackMade & { fileName: string; byPersonId: string },
): void {
  const row = { id: turn.dice.id(), fileName, at: turn.now, byPersonId, bytes, sha256, withContacts, isWhole, lastEntry }
  store.insertPack(turn.db, row)
  turn.record({ kind: 'pack.made', subject: 'packs', body: { fileName, sha256, withContacts, isWhole } })
}

export function removePack(packer: Packer, fileName: string): void {
  if (!packer.find(fileName)) throw new Refusal('not-found', 'That pack is no longer here. Make another one.')
  packer.remove(fileName)
}

/** The packs with contact data whose files are still here, by the names of the files. */
export function listPacksWithContacts(sight: Sight, packer: Packer): string[] {
  return store
    .listPacks(sight.db)
    .filter(({ fileName, withContacts }) => withContacts && packer.find(fileName) !== null)
    .map(({ fileName }) => fileName)
}
