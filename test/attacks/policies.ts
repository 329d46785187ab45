import type { Role } from '../../server/people/people.contract'

export type Policy = 'anyone' | 'signed-in' | readonly Role[]

/** Who may call what. A procedure that is not listed here fails the suite, and so does one that is open to more. */
export const POLICIES: Record<string, Policy> = {
  'campaign.open': 'anyone',
  'campaign.save': ['maker'],
  'campaign.shell': 'anyone',
  'campaign.whole': ['maker'],
  'outbox.list': ['maker'],
  'people.askCode': 'anyone',
  'people.demoPeople': 'anyone',
  'people.enterCode': 'anyone',
  'people.firstMaker': 'anyone',
  'people.myPaddle': 'signed-in',
  'people.paddles': ['maker', 'host', 'treasurer'],
  'people.raiseCeiling': ['maker', 'host'],
  'people.setRole': ['maker'],
  'people.signOut': 'anyone',
  'people.staff': ['maker'],
  'people.stepInto': 'anyone',
  'people.takePaddle': 'signed-in',
}
