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
      : `Please send it to:\n\n${told.address}\n\nPutting a note with your name inside helps us.`
  return {
    subject: `${told.campaign}: where to send your gift`,
    body: `Dear ${told.name},\n\nThank you for offering ${counted(told.quantity, told.what)}. We can use it.\n\n${where}\n\nIf your plans change, just reply to this email.`,
  }
}

export function courteousDecline(told: { name: string; what: string; reason: string; campaign: string }): Draft {
  return {
    subject: `${told.campaign}: your offer`,
    body: `Dear ${told.name},\n\nThank you for offering ${told.what}. We cannot take it this time: ${told.reason}\n\nIt helps all the same to know that you offered. Thank you.`,
  }
}

/** For what came and is given back: never anything suspect, which stays here. */
export function courteousReturn(told: { name: string; what: string; reason: string; campaign: string }): Draft {
  return {
    subject: `${told.campaign}: your gift is on its way back`,
    body: `Dear ${told.name},\n\nThank you for sending ${told.what}. We could not use it after all: ${told.reason}\n\nWe are sending it back to you with our thanks. It helps all the same to know that you thought of us.`,
  }
}
