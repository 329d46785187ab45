import { type CertificateOrder, setCertificate } from './certificate-paper'
import { type LabelsOrder, setLabels } from './labels-paper'
import { type PictureOrder, setPicture } from './picture'

/** Everything that can be set in print: plain data, since it goes to another thread. The same order gives the same bytes. */
export type PaperOrder = CertificateOrder | LabelsOrder | PictureOrder

export async function setPaper(order: PaperOrder): Promise<Buffer> {
  switch (order.of) {
    case 'certificate':
      return setCertificate(order)
    case 'labels':
      return setLabels(order)
    case 'picture':
      return setPicture(order)
  }
}
