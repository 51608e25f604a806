/** The PIN of everybody in the practice casting. Screens show it; it guards nothing. */
export const PRACTICE_PIN = '1234';
