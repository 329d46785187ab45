import { openDatabase } from '../../../db/open'

export const opensAt = () => `${openDatabase()} at ${Date.now()}`
