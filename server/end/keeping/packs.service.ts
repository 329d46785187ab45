import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import type { Keeper, Packing } from './keeper'
import type { Forgotten, PackIn } from './keeping.contract'
import * as store from './keeping.store'
import type { PackMade } from './pack.contract'
import { sealedLots } from './tables.rules'

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
  /** While these are open a pack leaves out what is sealed, and cannot be read back. */
  openLots: number[]
  backups: string[]
}

export function readPacks(sight: Sight, keeper: Keeper): PacksView {
  return {
    zone: findCampaign(sight)?.zone ?? 'UTC',
    present: keeper.present(),
    packs: store.listPacks(sight.db).map(({ fileName, at, byPersonId, bytes, sha256, withContacts, isWhole }) => ({
      fileName,
      at,
      by: byPersonId === null ? null : (findPerson(sight, byPersonId)?.name ?? null),
      bytes,
      sha256,
      withContacts,
      isWhole,
      isHere: keeper.find(fileName) !== null,
    })),
    openLots: sealedLots(listLots(sight)),
    backups: keeper.backups(),
  }
}

export function startPack(sight: Sight, keeper: Keeper, actor: Actor, { withContacts }: PackIn): void {
  if (!findCampaign(sight)) throw new Refusal('conflict', 'There is no campaign yet, so there is nothing to pack.')
  if (!keeper.start(sight, actor, withContacts)) throw new Refusal('conflict', 'A pack is being made already. Wait for it, or stop it.')
}

/** Says in the house that a pack was made, so that it is known by its digest later. */
export function notePack(
  turn: Turn,
  { fileName, byPersonId, bytes, sha256, withContacts, isWhole, lastEntry }: PackMade & { fileName: string; byPersonId: string },
): void {
  const row = { id: turn.dice.id(), fileName, at: turn.now, byPersonId, bytes, sha256, withContacts, isWhole, lastEntry }
  store.insertPack(turn.db, row)
  turn.record({ kind: 'keeping.pack-made', subject: 'keeping', body: { fileName, sha256, withContacts, isWhole } })
}

/** The file of a pack for those who may have it; refused for one that is not here. */
export function getPackFile(keeper: Keeper, fileName: string): string {
  const file = keeper.find(fileName)
  if (!file) throw new Refusal('not-found', 'That pack is not here any more. Make another one.')
  return file
}

export function removePack(keeper: Keeper, fileName: string): void {
  getPackFile(keeper, fileName)
  keeper.remove(fileName)
}

/** After the turn in which contact data was deleted: files, packs and the free space of the database are cleared of it too. */
export function clearAfterForgetting(sight: Sight, keeper: Keeper, { photographs }: Forgotten): void {
  for (const { fileName, withContacts } of store.listPacks(sight.db)) if (withContacts) keeper.remove(fileName)
  keeper.scrub(photographs)
}
