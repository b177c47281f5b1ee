/** A fraction as a string, such as "30" or "45/4". */
export type Exact = string;
