#include "cli/serve/http_library.hpp"

#include "netlists/platform/shared_library.hpp"

namespace voltfall {

namespace {

HttpLibrary open_library() {
    const SharedLibrary library(LIBRARY_FILE, "the library that serves pages");
    HttpLibrary found;
    library.find("MHD_add_response_header", found.add_response_header);
    library.find("MHD_create_post_processor", found.create_post_processor);
    library.find("MHD_create_response_from_buffer", found.create_response_from_buffer);
    library.find("MHD_destroy_post_processor", found.destroy_post_processor);
    library.find("MHD_destroy_response", found.destroy_response);
    library.find("MHD_get_connection_values", found.get_connection_values);
    library.find("MHD_get_daemon_info", found.get_daemon_info);
    library.find("MHD_lookup_connection_value", found.lookup_connection_value);
    library.find("MHD_post_process", found.post_process);
    library.find("MHD_queue_response", found.queue_response);
    library.find("MHD_run_wait", found.run_wait);
    library.find("MHD_start_daemon", found.start_daemon);
    library.find("MHD_stop_daemon", found.stop_daemon);
    return found;
}

}  // namespace

const HttpLibrary& http_library() {
    static const HttpLibrary library = open_library();
    return library;
}

}  // namespace voltfall
