import { ErrorBoundary, LocationProvider, lazy, Route, Router } from 'preact-iso';
import { SignInPage } from './pages/sign-in/sign-in-page';
import { TodayPage } from './pages/today/today-page';
import { pageChanged } from './ui/heading';
import { NotFoundPage } from './ui/not-found-page';

const AccountPage = lazy(async () => (await import('./pages/studio/account/account-page')).AccountPage);
const CourseResultsPage = lazy(
  async () => (await import('./pages/courses/results/course-results-page')).CourseResultsPage,
);
const ImportPage = lazy(async () => (await import('./pages/studio/import/import-page')).ImportPage);
const MixesPage = lazy(async () => (await import('./pages/shelf/mixes/mixes-page')).MixesPage);
const NewPlanPage = lazy(async () => (await import('./pages/courses/plans/new-plan-page')).NewPlanPage);
const OrdersPage = lazy(async () => (await import('./pages/shelf/orders/orders-page')).OrdersPage);
const PasswordPage = lazy(async () => (await import('./pages/sign-in/password-page')).PasswordPage);
const PlanPage = lazy(async () => (await import('./pages/courses/plans/plan-page')).PlanPage);
const PlansPage = lazy(async () => (await import('./pages/courses/plans/plans-page')).PlansPage);
const PricePage = lazy(async () => (await import('./pages/courses/pricing/price-page')).PricePage);
const ReceivablesPage = lazy(async () => (await import('./pages/money/receivables/receivables-page')).ReceivablesPage);
const SalesPage = lazy(async () => (await import('./pages/shelf/sales/sales-page')).SalesPage);
const SetUpPage = lazy(async () => (await import('./pages/sign-in/set-up-page')).SetUpPage);
const StaffPage = lazy(async () => (await import('./pages/studio/staff/staff-page')).StaffPage);
const StockPage = lazy(async () => (await import('./pages/shelf/stock/stock-page')).StockPage);
const StocktakePage = lazy(async () => (await import('./pages/shelf/stocktake/stocktake-page')).StocktakePage);
const StudioSettingsPage = lazy(
  async () => (await import('./pages/studio/settings/studio-settings-page')).StudioSettingsPage,
);
const TilesPage = lazy(async () => (await import('./pages/shelf/tiles/tiles-page')).TilesPage);

/** The desk: each address is one question that the owner asks. A page's code is read when it is first opened. */
export function App() {
  return (
    <LocationProvider>
      <ErrorBoundary onError={() => location.reload()}>
        <Router onRouteChange={pageChanged}>
          <Route path="/" component={TodayPage} />
          <Route path="/courses/plans" component={PlansPage} />
          <Route path="/courses/plans/new/:planId?" component={NewPlanPage} />
          <Route path="/courses/plans/:planId" component={PlanPage} />
          <Route path="/courses/price/:courseId?" component={PricePage} />
          <Route path="/courses/results/:courseId?" component={CourseResultsPage} />
          <Route path="/shelf" component={StockPage} />
          <Route path="/shelf/orders" component={OrdersPage} />
          <Route path="/shelf/sales" component={SalesPage} />
          <Route path="/shelf/mixes" component={MixesPage} />
          <Route path="/shelf/tiles" component={TilesPage} />
          <Route path="/shelf/count" component={StocktakePage} />
          <Route path="/money" component={ReceivablesPage} />
          <Route path="/studio" component={StudioSettingsPage} />
          <Route path="/studio/import" component={ImportPage} />
          <Route path="/studio/staff" component={StaffPage} />
          <Route path="/studio/account" component={AccountPage} />
          <Route path="/sign-in" component={SignInPage} />
          <Route path="/set-up" component={SetUpPage} />
          <Route path="/password" component={PasswordPage} />
          <Route default component={NotFoundPage} />
        </Router>
      </ErrorBoundary>
    </LocationProvider>
  );
}
