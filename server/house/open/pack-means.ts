import { setPaper } from '#doors/papers/papers'
import { ADDRESSES } from '#doors/web/addresses'
import { deleteContactsInCopy } from '#end/deletion/contact-data.service'
import type { PackMeans } from '#end/packs/contents.service'

/** What a pack is made with, in the house, on the thread beside it and by the command. */
export const PACK_MEANS: PackMeans = { addresses: ADDRESSES, setPaper, deleteContacts: deleteContactsInCopy }
