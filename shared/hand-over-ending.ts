/** How the name of a hand-over file ends. Apart from what is in one, which is read far less often than a name. */
export const HAND_OVER_ENDING = '.linekeeper';
