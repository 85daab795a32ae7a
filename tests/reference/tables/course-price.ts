/**
 * Two courses and what their prices come to, reckoned in exact fractions by independent code and printed as floats
 * (the rungs of the ladder to four decimals). Money in major units, as printed there; the program keeps minor units.
 */
export interface PriceCase {
  name: string;
  inputs: {
    places: number;
    minimum: number;
    alpha: string;
    beta: string;
    vatPercent: string;
    cardPercent: string;
    cardFixed: string;
    payments: number;
    perStudent: string;
    fixedCash: string;
    ownerHours: string;
    ownerHoursPerStudent: string;
    ownerWage: string;
    secondTutor: string;
    secondTutorAbove: number;
    sunkIfCancelled: string;
    targetSurplus: string;
    payFloorPerHour: string;
    poorAtMost: string;
    priceStep: string;
  };
  expected: {
    enrolment: number[];
    expectedBooked: number;
    probabilityCancelled: number;
    floor: number;
    surplusPrice: number;
    riskPrice: number;
    fairPrice: number;
    bindingCondition: 'surplus' | 'risk';
    /** students, result, owner's pay per hour, cost per student */
    atFairPrice: [number, number, number, number][];
    breakEvenStudents: number;
    expectedResult: number;
    probabilityUnderpaid: number;
    probabilityUnderPayFloor: number;
    probabilityOutOfPocket: number;
  };
}

export const PRICE_CASES: PriceCase[] = [
  {
    name: 'an evening course, no VAT, paid in two parts',
    inputs: {
      places: 8,
      minimum: 4,
      alpha: '9',
      beta: '3',
      vatPercent: '0',
      cardPercent: '1.7',
      cardFixed: '0.2',
      payments: 2,
      perStudent: '21.35',
      fixedCash: '64.8',
      ownerHours: '16.5',
      ownerHoursPerStudent: '0.5',
      ownerWage: '24',
      secondTutor: '90',
      secondTutorAbove: 6,
      sunkIfCancelled: '12',
      targetSurplus: '60',
      payFloorPerHour: '12',
      poorAtMost: '0.05',
      priceStep: '5',
    },
    expected: {
      enrolment: [
        0.0005953798523457966, 0.0042867349368897354, 0.016670635865682307, 0.04584424863062634, 0.09823767563705645,
        0.17027863777089783, 0.23839009287925697, 0.25541795665634676, 0.17027863777089783,
      ],
      expectedBooked: 6.0,
      probabilityCancelled: 0.06739699928554417,
      floor: 116.21978961560711,
      surplusPrice: 126.69864358651317,
      riskPrice: 95.06612410986776,
      fairPrice: 130.0,
      bindingCondition: 'surplus',
      atFairPrice: [
        [1, -366.76, 2.4259, 496.76],
        [2, -272.72, 8.416, 266.36],
        [3, -178.68, 14.0733, 189.56],
        [4, -84.64, 19.4249, 151.16],
        [5, 9.4, 24.4947, 128.12],
        [6, 103.44, 29.3046, 112.76],
        [7, 107.48, 29.374, 114.6457],
        [8, 201.52, 33.8302, 104.81],
      ],
      breakEvenStudents: 5,
      expectedResult: 78.90296261014527,
      probabilityUnderpaid: 0.09823767563705645,
      probabilityUnderPayFloor: 0.0,
      probabilityOutOfPocket: 0.0,
    },
  },
  {
    name: 'a day with VAT, paid at once',
    inputs: {
      places: 12,
      minimum: 3,
      alpha: '4.5',
      beta: '3.5',
      vatPercent: '20',
      cardPercent: '2.5',
      cardFixed: '0.2',
      payments: 1,
      perStudent: '14.2',
      fixedCash: '118',
      ownerHours: '7.25',
      ownerHoursPerStudent: '0.25',
      ownerWage: '22.5',
      secondTutor: '75',
      secondTutorAbove: 8,
      sunkIfCancelled: '20',
      targetSurplus: '25',
      payFloorPerHour: '16',
      poorAtMost: '0.1',
      priceStep: '1',
    },
    expected: {
      enrolment: [
        0.004174411296844482, 0.015546083450317383, 0.03483474254608154, 0.06038022041320801, 0.08860141038894653,
        0.11475992202758789, 0.13388657569885254, 0.14176225662231445, 0.13585549592971802, 0.11611580848693848,
        0.0855034589767456, 0.05009293556213379, 0.01848667860031128,
      ],
      expectedBooked: 6.75,
      probabilityCancelled: 0.05455523729324341,
      floor: 78.07273118576981,
      surplusPrice: 82.71321661626149,
      riskPrice: 95.1340206185567,
      fairPrice: 96.0,
      bindingCondition: 'risk',
      atFairPrice: [
        [1, -223.55, -7.3067, 303.55],
        [2, -165.975, 1.0839, 162.9875],
        [3, -108.4, 8.95, 116.1333],
        [4, -50.825, 16.3394, 92.7062],
        [5, 6.75, 23.2941, 78.65],
        [6, 64.325, 29.8514, 69.2792],
        [7, 121.9, 36.0444, 62.5857],
        [8, 179.475, 41.9027, 57.5656],
        [9, 162.05, 39.5579, 61.9944],
        [10, 219.625, 45.0256, 58.0375],
        [11, 277.2, 50.22, 54.8],
        [12, 334.775, 55.161, 52.1021],
      ],
      breakEvenStudents: 5,
      expectedResult: 96.58078385740518,
      probabilityUnderpaid: 0.14898163080215454,
      probabilityUnderPayFloor: 0.06038022041320801,
      probabilityOutOfPocket: 0.0,
    },
  },
];
