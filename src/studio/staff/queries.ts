/** After a backup was restored: whoever was signed in then, perhaps by a cookie that was lost since, signs in again. */
export const SIGN_EVERYBODY_OUT = 'DELETE FROM sign_in';
