import { lots } from '../server/sale/lots/lots.service'
// @ts-expect-error: this file is not there, on purpose
import { nothing } from './nowhere'

export default function Page() {
  return lots().concat(nothing).join()
}
