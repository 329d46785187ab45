import { setProgrammePicture } from '#air/telling/programme-picture'
import { setCard } from '#bench/certificates/card-paper'
import { setCertificate } from '#bench/certificates/certificate-paper'
import { setStatement } from '#end/statement/statement-paper'
import { setDocument } from '#money/documents/document-paper'
import { setInvoice } from '#money/invoices/invoice-paper'
import { setCustoms } from '#money/sending/customs-paper'
import { setLeaflet } from '#money/sending/leaflet-paper'
import { setPackingList } from '#money/sending/packing-paper'
import { setParcelPapers } from '#money/sending/parcel-papers'
import { setRepeat } from '#money/sending/repeat-paper'
import type { PaperOrder, Papers } from '#paper/order'
import { setPicture } from '#paper/picture'
import { setDonorCard } from '#stock/donors/donor-card-paper'
import { setLabels } from '#stock/shelf/labels-paper'

type Setters = { [Of in keyof Papers]: (order: Papers[Of] & { of: Of }) => Promise<Buffer> }

/** How each paper of the house is set. One line for each, and the compiler misses none. */
const SETTERS: Setters = {
  card: setCard,
  certificate: setCertificate,
  customs: setCustoms,
  'donor-card': setDonorCard,
  invoice: setInvoice,
  'invoice-document': setDocument,
  labels: setLabels,
  leaflet: setLeaflet,
  packing: setPackingList,
  'parcel-papers': setParcelPapers,
  picture: setPicture,
  'programme-picture': setProgrammePicture,
  repeat: setRepeat,
  statement: setStatement,
}

const set = <Of extends keyof Papers>(of: Of, order: Papers[Of] & { of: Of }): Promise<Buffer> => SETTERS[of](order)

export const setPaper = async (order: PaperOrder): Promise<Buffer> => set(order.of, order)
