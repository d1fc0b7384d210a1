export interface Currency {
  name: string;
  /** What stands in front of an amount. */
  symbol: string;
  /** Decimal digits of the smallest unit. */
  minor_digits: number;
}

/** Currencies to choose from, by ISO 4217 code, with its minor digits. Others are shown by their code. */
export const CURRENCIES: Readonly<Record<string, Currency>> = {
  AUD: { name: "Australian dollar", symbol: "A$", minor_digits: 2 },
  BRL: { name: "Brazilian real", symbol: "R$", minor_digits: 2 },
  CAD: { name: "Canadian dollar", symbol: "C$", minor_digits: 2 },
  CHF: { name: "Swiss franc", symbol: "CHF\u00a0", minor_digits: 2 },
  EUR: { name: "Euro", symbol: "€", minor_digits: 2 },
  GBP: { name: "Pound sterling", symbol: "£", minor_digits: 2 },
  INR: { name: "Indian rupee", symbol: "₹", minor_digits: 2 },
  JOD: { name: "Jordanian dinar", symbol: "JD\u00a0", minor_digits: 3 },
  JPY: { name: "Japanese yen", symbol: "¥", minor_digits: 0 },
  KWD: { name: "Kuwaiti dinar", symbol: "KD\u00a0", minor_digits: 3 },
  MXN: { name: "Mexican peso", symbol: "MX$", minor_digits: 2 },
  NZD: { name: "New Zealand dollar", symbol: "NZ$", minor_digits: 2 },
  USD: { name: "US dollar", symbol: "$", minor_digits: 2 },
  ZAR: { name: "South African rand", symbol: "R\u00a0", minor_digits: 2 },
};
