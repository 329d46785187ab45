import { listDonors } from '../../stock/donors/donors.store'
import { first } from './first'

export const lots = () => [first(), ...listDonors()]
export const second = () => 'second'
