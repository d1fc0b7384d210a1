/** What the model does not know, told to those who rely on it. */
export const LIMITS = [
  "It has not seen the vehicle. Everything rests on what was typed; a wrong date or amount makes a wrong answer.",
  "It knows one leak. Two leaks at once count as one, and a leak that opens only with vibration or while running is taken for one that always leaks.",
  "It knows the outdoor temperature of an average year, not the heat under the hood, a garage, or how much the vehicle is driven.",
  "It takes weak cooling for low charge. A blocked condenser, a tired compressor or a blend door does the same: check readings first when in doubt.",
  "Nobody has published how often each place leaks or how often each test finds it. Those shares and chances are working assumptions; so are many prices.",
  "Prices are those of the United States, in dollars without tax, and differ by 40 % either way between regions. Your own quote beats them.",
  "The likely ranges allow for what the log leaves open and for the place of the leak. They do not allow for the assumptions being wrong; the bars under “What would change it” show that, one assumption at a time.",
  "In invented fleets with known losses, the estimated release was 1 to 3 % too low with every charge logged, and 2 to 5 % too low with one of ten missing. Of vehicles charged ten times or more, the likely range of the leak held the truth in 8 of 10, not 9.",
  "Leak rates from 0.3 % to 800 % of the nameplate charge a year are considered, and growth from −30 % to +90 % a year.",
  "A carbon price times a warming potential overstates the harm of R-134a: the figure that US EPA calculates for the gas itself is about 0.44 of that product.",
  "It does not weigh comfort, safety of defrosting, or the resale value of a repaired vehicle, unless you put a worth on a cooling season.",
] as const;
