import { tell } from '../../../seed/story'

export const listDonors = () => [tell()]
