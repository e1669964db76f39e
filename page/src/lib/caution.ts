/** The caution of a view that has no answer of the server yet; with an answer, the server's own words stand there. */
export const CAUTION =
  'For planning only, not for navigation. The master, the pilot, official charts, notices and local rules decide.'
