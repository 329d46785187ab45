/** Letters to donors. No cash value is ever stated in one. */
export interface Draft {
  subject: string
  body: string
}

/** "6 × Display"; what is not counted in pieces stands by itself. */
export const counted = (quantity: number, what: string): string => (quantity > 0 ? `${quantity} × ${what}` : what)

export function whereToSend(told: { name: string; what: string; quantity: number; campaign: string; address: string }): Draft {
  const where =
    told.address === ''
      ? 'The maker will write to you with the address.'
      : `Please send it to:\n\n${told.address}\n\nA note of your name inside helps us.`
  return {
    subject: `${told.campaign}: where to send your gift`,
    body: `Dear ${told.name},\n\nthank you for offering ${counted(told.quantity, told.what)}. We can use it.\n\n${where}\n\nIf your plans change, just reply to this email.`,
  }
}

export function courteousDecline(told: { name: string; what: string; reason: string; campaign: string }): Draft {
  return {
    subject: `${told.campaign}: your offer`,
    body: `Dear ${told.name},\n\nthank you for offering ${told.what}. We cannot take it this time: ${told.reason}\n\nThat you offered helps all the same. Thank you.`,
  }
}

/** For what came and is given back: never anything suspect, which stays here. */
export function courteousReturn(told: { name: string; what: string; reason: string; campaign: string }): Draft {
  return {
    subject: `${told.campaign}: your gift comes back to you`,
    body: `Dear ${told.name},\n\nthank you for sending ${told.what}. We could not use it after all: ${told.reason}\n\nIt comes back to you with our thanks. That you thought of us helps all the same.`,
  }
}
