import { ErrorBoundary, LocationProvider, lazy, Route, Router } from 'preact-iso';
import { SignInPage } from './pages/sign-in/sign-in-page';
import { TodayPage } from './pages/today/today-page';
import { pageChanged } from './ui/heading';
import { NotFoundPage } from './ui/not-found-page';

const AccountPage = lazy(async () => (await import('./pages/studio/account/account-page')).AccountPage);
const CalendarPage = lazy(async () => (await import('./pages/courses/calendar/calendar-page')).CalendarPage);
const AskPage = lazy(async () => (await import('./pages/ask/ask-page')).AskPage);
const CalendarsPage = lazy(async () => (await import('./pages/studio/calendars/calendars-page')).CalendarsPage);
const ClosedDaysPage = lazy(async () => (await import('./pages/studio/closed-days/closed-days-page')).ClosedDaysPage);
const CoursePage = lazy(async () => (await import('./pages/courses/course/course-page')).CoursePage);
const CourseResultsPage = lazy(
  async () => (await import('./pages/courses/results/course-results-page')).CourseResultsPage,
);
const CoursesPage = lazy(async () => (await import('./pages/courses/list/courses-page')).CoursesPage);
const EquipmentPage = lazy(async () => (await import('./pages/kilns/equipment/equipment-page')).EquipmentPage);
const EnrolmentPage = lazy(async () => (await import('./pages/courses/enrolment/enrolment-page')).EnrolmentPage);
const FiringsPage = lazy(async () => (await import('./pages/kilns/firings/firings-page')).FiringsPage);
const ImportPage = lazy(async () => (await import('./pages/studio/import/import-page')).ImportPage);
const LetterPage = lazy(async () => (await import('./pages/letters/letter/letter-page')).LetterPage);
const LettersPage = lazy(async () => (await import('./pages/letters/list/letters-page')).LettersPage);
const MembersPage = lazy(async () => (await import('./pages/people/members/members-page')).MembersPage);
const MembershipKindsPage = lazy(
  async () => (await import('./pages/people/membership-kinds/membership-kinds-page')).MembershipKindsPage,
);
const MembershipPage = lazy(async () => (await import('./pages/people/membership/membership-page')).MembershipPage);
const MixesPage = lazy(async () => (await import('./pages/shelf/mixes/mixes-page')).MixesPage);
const NewPlanPage = lazy(async () => (await import('./pages/courses/plans/new-plan-page')).NewPlanPage);
const OrdersPage = lazy(async () => (await import('./pages/shelf/orders/orders-page')).OrdersPage);
const PasswordPage = lazy(async () => (await import('./pages/sign-in/password-page')).PasswordPage);
const PapersPage = lazy(async () => (await import('./pages/money/papers/papers-page')).PapersPage);
const PeoplePage = lazy(async () => (await import('./pages/people/list/people-page')).PeoplePage);
const PersonPage = lazy(async () => (await import('./pages/people/person/person-page')).PersonPage);
const PiecePage = lazy(async () => (await import('./pages/ware/piece/piece-page')).PiecePage);
const PlanPage = lazy(async () => (await import('./pages/courses/plans/plan-page')).PlanPage);
const PlansPage = lazy(async () => (await import('./pages/courses/plans/plans-page')).PlansPage);
const PricePage = lazy(async () => (await import('./pages/courses/pricing/price-page')).PricePage);
const ReceivablesPage = lazy(async () => (await import('./pages/money/receivables/receivables-page')).ReceivablesPage);
const SalesPage = lazy(async () => (await import('./pages/shelf/sales/sales-page')).SalesPage);
const SamplePage = lazy(async () => (await import('./pages/studio/sample/sample-page')).SamplePage);
const SetUpPage = lazy(async () => (await import('./pages/sign-in/set-up-page')).SetUpPage);
const StaffPage = lazy(async () => (await import('./pages/studio/staff/staff-page')).StaffPage);
const StockPage = lazy(async () => (await import('./pages/shelf/stock/stock-page')).StockPage);
const StocktakePage = lazy(async () => (await import('./pages/shelf/stocktake/stocktake-page')).StocktakePage);
const StudioSettingsPage = lazy(
  async () => (await import('./pages/studio/settings/studio-settings-page')).StudioSettingsPage,
);
const TilesPage = lazy(async () => (await import('./pages/shelf/tiles/tiles-page')).TilesPage);
const WarePage = lazy(async () => (await import('./pages/ware/list/ware-page')).WarePage);
const VoucherPage = lazy(async () => (await import('./pages/money/voucher/voucher-page')).VoucherPage);
const VouchersPage = lazy(async () => (await import('./pages/money/vouchers/vouchers-page')).VouchersPage);
const MaterialPage = lazy(async () => (await import('./pages/shelf/materials/material-page')).MaterialPage);
const MaterialsPage = lazy(async () => (await import('./pages/shelf/materials/materials-page')).MaterialsPage);
const RegisterPage = lazy(async () => (await import('./pages/courses/register/register-page')).RegisterPage);
const RoomsPage = lazy(async () => (await import('./pages/studio/rooms/rooms-page')).RoomsPage);
const StartPage = lazy(async () => (await import('./pages/studio/start/start-page')).StartPage);
const SuppliersPage = lazy(async () => (await import('./pages/shelf/suppliers/suppliers-page')).SuppliersPage);
const TariffsPage = lazy(async () => (await import('./pages/studio/tariffs/tariffs-page')).TariffsPage);
const TermsPage = lazy(async () => (await import('./pages/studio/terms/terms-page')).TermsPage);
const WebPagePage = lazy(async () => (await import('./pages/studio/web-page/web-page-page')).WebPagePage);

/** The desk: each address is one question that the owner asks. A page's code is read when it is first opened. */
export function App() {
  return (
    <LocationProvider>
      <ErrorBoundary onError={() => location.reload()}>
        <Router onRouteChange={pageChanged}>
          <Route path="/" component={TodayPage} />
          <Route path="/courses" component={CoursesPage} />
          <Route path="/courses/calendar" component={CalendarPage} />
          <Route path="/courses/places" component={EnrolmentPage} />
          <Route path="/courses/plans" component={PlansPage} />
          <Route path="/courses/plans/new/:planId?" component={NewPlanPage} />
          <Route path="/courses/plans/:planId" component={PlanPage} />
          <Route path="/courses/price/:courseId?" component={PricePage} />
          <Route path="/courses/results/:courseId?" component={CourseResultsPage} />
          <Route path="/courses/:courseId" component={CoursePage} />
          <Route path="/courses/:courseId/register" component={RegisterPage} />
          <Route path="/people" component={PeoplePage} />
          <Route path="/people/members" component={MembersPage} />
          <Route path="/people/members/kinds" component={MembershipKindsPage} />
          <Route path="/people/members/:membershipId" component={MembershipPage} />
          <Route path="/people/:personId" component={PersonPage} />
          <Route path="/ware" component={WarePage} />
          <Route path="/ware/:pieceId" component={PiecePage} />
          <Route path="/kilns" component={FiringsPage} />
          <Route path="/kilns/equipment" component={EquipmentPage} />
          <Route path="/shelf" component={StockPage} />
          <Route path="/shelf/orders" component={OrdersPage} />
          <Route path="/shelf/sales" component={SalesPage} />
          <Route path="/shelf/mixes" component={MixesPage} />
          <Route path="/shelf/tiles" component={TilesPage} />
          <Route path="/shelf/count" component={StocktakePage} />
          <Route path="/money" component={ReceivablesPage} />
          <Route path="/money/papers" component={PapersPage} />
          <Route path="/money/vouchers" component={VouchersPage} />
          <Route path="/money/vouchers/:voucherId" component={VoucherPage} />
          <Route path="/letters" component={LettersPage} />
          <Route path="/letters/:letterId" component={LetterPage} />
          <Route path="/studio" component={StudioSettingsPage} />
          <Route path="/shelf/materials" component={MaterialsPage} />
          <Route path="/shelf/materials/:materialId" component={MaterialPage} />
          <Route path="/shelf/suppliers" component={SuppliersPage} />
          <Route path="/studio/start" component={StartPage} />
          <Route path="/studio/rooms" component={RoomsPage} />
          <Route path="/studio/closed-days" component={ClosedDaysPage} />
          <Route path="/studio/calendars" component={CalendarsPage} />
          <Route path="/studio/web-page" component={WebPagePage} />
          <Route path="/studio/terms" component={TermsPage} />
          <Route path="/studio/tariffs" component={TariffsPage} />
          <Route path="/studio/import" component={ImportPage} />
          <Route path="/studio/staff" component={StaffPage} />
          <Route path="/studio/account" component={AccountPage} />
          <Route path="/studio/sample" component={SamplePage} />
          <Route path="/ask/:courseId" component={AskPage} />
          <Route path="/sign-in" component={SignInPage} />
          <Route path="/set-up" component={SetUpPage} />
          <Route path="/password" component={PasswordPage} />
          <Route default component={NotFoundPage} />
        </Router>
      </ErrorBoundary>
    </LocationProvider>
  );
}
