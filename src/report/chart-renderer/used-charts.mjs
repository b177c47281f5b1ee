/** Of chart.js what the pictures use, in place of all of it: each plugin that is registered is asked for every chart. */
import {
  CategoryScale,
  Chart,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  PointElement,
  SubTitle,
  Title,
} from "chart.js";

Chart.register(CategoryScale, Filler, LinearScale, LineController, LineElement, PointElement, SubTitle, Title);

export { Chart };
