/** The texts in the language of the device. */
import { en, type Words } from './en';

export const words: Words = en;
