import { type Address, bytes } from '#runtime/call/address'
import { changesFile } from './changes.service'

export const changesAddresses: Address[] = [
  {
    path: '/bench/record/changes.csv',
    audience: ['maker', 'treasurer'],
    answer(sight) {
      const { type, text, fileName } = changesFile(sight)
      return bytes(type, text, fileName)
    },
  },
]
