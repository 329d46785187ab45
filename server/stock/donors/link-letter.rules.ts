/** The letter that brings a donor the way to their own page. */
export function privateLinkLetter(told: { name: string; campaign: string; link: string }): { subject: string; body: string } {
  return {
    subject: `${told.campaign}: what became of your gifts`,
    body: `Dear ${told.name},\n\nthis link opens a page that is only yours. It tells what became of everything you gave, and there you say whether and as what we may name you. You can change that at any time.\n\n${told.link}\n\nWhoever has the link can open the page, so please keep it to yourself. A new one can be asked for on the same page; the old one then stops working.`,
  }
}
