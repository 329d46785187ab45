import { openDatabase } from '../../../db/open'

export const lotsRouter = () => openDatabase()
