/** The letter that brings a donor the way to their own page. */
export function privateLinkLetter(told: { name: string; campaign: string; link: string }): { subject: string; body: string } {
  return {
    subject: `${told.campaign}: what became of your gifts`,
    body: `Dear ${told.name},\n\nThis link opens a page that is yours alone. It shows what became of everything you gave, and lets you say whether and how we may name you. You can change that at any time.\n\n${told.link}\n\nAnyone who has the link can open the page, so please keep it to yourself. You can ask for a new one on the same page; the old one then stops working.`,
  }
}
