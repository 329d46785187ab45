import { second } from './lots.service'

export const first = () => second()
