/** As much of an email address as tells two donors of one name apart: "w…@hallett.example". Nothing of none. */
export const mailHint = (mail: string): string => (mail === '' ? '' : `${mail.slice(0, 1)}…${mail.slice(mail.lastIndexOf('@'))}`)
