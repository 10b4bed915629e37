/** The texts in the language of the device. A change of language changes what is drawn. */
export { say, speak } from './say';
export { words } from './words';
