import type { ChangeKind } from '#people/changes/changes.contract'

export const KIND_WORDS: Record<ChangeKind, string> = {
  role: 'Roles',
  ceiling: 'Ceilings',
  account: 'The account',
  terms: 'Terms',
  campaign: 'The campaign',
  postage: 'Postage',
  key: 'Keys',
}
