/** What the model does not know, told to those who rely on it. */
export const LIMITS = [
  "It has not seen the vehicle: a wrong date or amount makes a wrong answer.",
  "It knows one leak: two count as one, and one that opens only with vibration or while running counts as always open.",
  "It knows the outdoor temperature of an average year, not the heat under the hood, a garage, or how much the vehicle is driven.",
  "It takes weak cooling for low charge; a blocked condenser, tired compressor or blend door does the same: when in doubt, check readings.",
  "Nobody has published how often each place leaks or each test finds it: those chances and many prices are working assumptions.",
  "Prices are those of the United States, in dollars without tax, and differ by 40 % either way between regions. Your own quote beats them.",
  "The likely ranges allow for what the log and the place of the leak leave open, not for wrong assumptions: the bars under “What would change it” show those.",
  "In simulated fleets, estimated release was up to 4 % too low (8 % with many charges missing). Of vehicles charged ten times or more, likely ranges were right for 80 %.",
  "Leak rates from 0.3 % to 800 % of the nameplate charge a year are considered, and growth from −30 % to +90 % a year.",
  "A carbon price times a warming potential overstates the harm of R-134a: the figure that US EPA calculates for the gas itself is about 0.44 of that product.",
  "It does not weigh comfort, safety of defrosting, or the resale value of a repaired vehicle, unless you put a worth on a cooling season.",
] as const;
