import { type CardOrder, setCard } from '#bench/certificates/card-paper'
import { type CertificateOrder, setCertificate } from '#bench/certificates/certificate-paper'
import { type StatementOrder, setStatement } from '#end/keeping/statement-paper'
import { type InvoiceOrder, setInvoice } from '#money/invoices/invoice-paper'
import { type DonorCardOrder, type PackingOrder, setDonorCard, setPackingList } from '#money/sending/list-papers'
import { type CustomsOrder, type LeafletOrder, type RepeatOrder, setCustoms, setLeaflet, setRepeat } from '#money/sending/sending-papers'
import { type PictureOrder, setPicture } from '#paper/picture'
import { type ProgrammePictureOrder, setProgrammePicture } from '#sale/programme/programme-picture'
import { type LabelsOrder, setLabels } from '#stock/shelf/labels-paper'

/** Everything that can be set in print: plain data, since it goes to another thread. The same order gives the same bytes. */
export type PaperOrder =
  | CertificateOrder
  | LabelsOrder
  | PictureOrder
  | ProgrammePictureOrder
  | CardOrder
  | PackingOrder
  | InvoiceOrder
  | DonorCardOrder
  | CustomsOrder
  | LeafletOrder
  | RepeatOrder
  | StatementOrder

export async function setPaper(order: PaperOrder): Promise<Buffer> {
  switch (order.of) {
    case 'certificate':
      return setCertificate(order)
    case 'labels':
      return setLabels(order)
    case 'card':
      return setCard(order)
    case 'packing':
      return setPackingList(order)
    case 'invoice':
      return setInvoice(order)
    case 'donor-card':
      return setDonorCard(order)
    case 'customs':
      return setCustoms(order)
    case 'leaflet':
      return setLeaflet(order)
    case 'repeat':
      return setRepeat(order)
    case 'programme-picture':
      return setProgrammePicture(order)
    case 'statement':
      return setStatement(order)
    case 'picture':
      return setPicture(order)
  }
}
