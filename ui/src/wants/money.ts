/** Amounts as typed, and in a currency's smallest unit (ISO 4217, by the browser's own table). */
import type { Money } from '../door/types/Money';
import { numberOf } from '../paper/turn';

function places(currency: string): number {
  try {
    const format = new Intl.NumberFormat('en', { style: 'currency', currency });
    return format.resolvedOptions().maximumFractionDigits ?? 2;
  } catch {
    return 2;
  }
}

export function toMinor(typed: string, currency: string): Money | null {
  const amount = numberOf(typed);
  if (Number.isNaN(amount)) return null;
  return { minor: Math.round(amount * 10 ** places(currency)), currency };
}

export function fromMinor(money: Money): string {
  const digits = places(money.currency);
  const amount = money.minor / 10 ** digits;
  return Number.isInteger(amount) ? String(amount) : amount.toFixed(digits);
}

/** A first guess by the device's region; the keys beside it change it. */
export function homeCurrency(language = navigator.language): string {
  const region = language.split('-')[1] ?? '';
  return { GB: 'GBP', US: 'USD', SE: 'SEK', CH: 'CHF', CA: 'CAD', AU: 'AUD' }[region] ?? 'EUR';
}
