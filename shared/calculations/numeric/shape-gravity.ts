/** Standard acceleration of free fall, m/s² (3rd CGPM 1901, ISO 80000-3); where no g of the place is given. */
export const STANDARD_GRAVITY_M_S2 = 9.80665;
